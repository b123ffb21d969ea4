namespace BoardSim.Engine.Circuits;

/// <summary>A device with a start value (a capacitor's voltage, an inductor's current, a part's temperature).</summary>
public interface IInitial
{
    /// <summary>Writes start values of unknowns that the device owns, or voltages across its terminals, when a run starts from
    /// initial conditions instead of an operating point.</summary>
    /// <param name="initial">Receiver.</param>
    void SetInitial(InitialValues initial);
}

/// <summary>Collects start values for a run without an operating point: known unknowns and known voltage differences.</summary>
public sealed class InitialValues
{
    private readonly List<(int Plus, int Minus, double Volts)> differences = [];
    private readonly Dictionary<int, double> values = [];

    /// <summary>Voltage differences that capacitors hold at the start.</summary>
    public IReadOnlyList<(int Plus, int Minus, double Volts)> Differences => differences;

    /// <summary>Values of single unknowns, by index.</summary>
    public IReadOnlyDictionary<int, double> Values => values;

    /// <summary>States that the voltage from <paramref name="plus"/> to <paramref name="minus"/> starts at a value.</summary>
    /// <param name="plus">Index of the positive node.</param>
    /// <param name="minus">Index of the negative node.</param>
    /// <param name="volts">Start value in volts.</param>
    public void Difference(int plus, int minus, double volts) => differences.Add((plus, minus, volts));

    /// <summary>States that an unknown starts at a value, in the unknown's unit.</summary>
    /// <param name="index">Index of the unknown.</param>
    /// <param name="value">Start value.</param>
    public void Value(int index, double value) => values[index] = value;
}
