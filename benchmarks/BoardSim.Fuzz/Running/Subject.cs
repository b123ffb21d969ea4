namespace BoardSim.Fuzz.Running;

/// <summary>How far an input came.</summary>
internal enum Verdict
{
    /// <summary>Refused with findings.</summary>
    Refused,

    /// <summary>Read, and refused with a reason when it was compiled or run.</summary>
    Read,

    /// <summary>Read and compiled.</summary>
    Compiled,

    /// <summary>Read, compiled and run, to its end or to its time limit.</summary>
    Ran,
}

/// <summary>A reader under test.</summary>
internal interface ISubject
{
    /// <summary>Name on the command line.</summary>
    string Name { get; }

    /// <summary>Makes the text of an input; the same dice give the same text.</summary>
    string Make(Generation.Dice dice);

    /// <summary>
    /// Reads a text, and goes on with what could be read. Whatever else than the documented exceptions comes out is a fault of the
    /// program, and so is a finding without a place or a message that nobody would read.
    /// </summary>
    /// <param name="text">The text.</param>
    /// <param name="alsoRun">True to run what could be read, for a very short time.</param>
    /// <param name="reading">Runs while the reader is at work, and stands still while other parts of the program are.</param>
    Verdict Try(string text, bool alsoRun, ReadingClock reading);
}
