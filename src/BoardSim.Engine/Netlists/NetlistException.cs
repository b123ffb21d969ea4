namespace BoardSim.Engine.Netlists;

/// <summary>A netlist cannot be read; all its errors are reported at once, in the order of their lines.</summary>
public sealed class NetlistException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="file">Name of the file, or of what stands for it.</param>
    /// <param name="findings">The errors, at least one.</param>
    public NetlistException(string file, IReadOnlyList<NetlistFinding> findings)
        : base(string.Join(Environment.NewLine, findings.Select(f => f.In(file))))
    {
        File = file;
        Findings = findings;
    }

    /// <summary>Name of the file.</summary>
    public string File { get; }

    /// <summary>The errors.</summary>
    public IReadOnlyList<NetlistFinding> Findings { get; }
}
