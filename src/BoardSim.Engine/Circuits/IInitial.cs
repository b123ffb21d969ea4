namespace BoardSim.Engine.Circuits;

/// <summary>A device with a start value (a capacitor's voltage, an inductor's current, a part's temperature).</summary>
public interface IInitial
{
    /// <summary>Writes start values of unknowns that the device owns, or a charge, when a run starts from
    /// initial conditions instead of an operating point.</summary>
    /// <param name="initial">Receiver.</param>
    void SetInitial(InitialValues initial);
}

/// <summary>Collects start values for a run without an operating point: known unknowns, and charges that capacitors hold.</summary>
public sealed class InitialValues
{
    private readonly List<(int Plus, int Minus, double Farads, double Volts)> charges = [];
    private readonly Dictionary<int, double> values = [];

    /// <summary>Capacitors that start at a voltage of their own.</summary>
    public IReadOnlyList<(int Plus, int Minus, double Farads, double Volts)> Charges => charges;

    /// <summary>Values of single unknowns, by index.</summary>
    public IReadOnlyDictionary<int, double> Values => values;

    /// <summary>States that a linear capacitance starts at a voltage.</summary>
    /// <param name="plus">Index of the positive node.</param>
    /// <param name="minus">Index of the negative node.</param>
    /// <param name="farads">Its capacitance in farads.</param>
    /// <param name="volts">Start voltage in volts.</param>
    public void Charge(int plus, int minus, double farads, double volts) => charges.Add((plus, minus, farads, volts));

    /// <summary>States that an unknown starts at a value, in the unknown's unit.</summary>
    /// <param name="index">Index of the unknown.</param>
    /// <param name="value">Start value.</param>
    public void Value(int index, double value) => values[index] = value;
}
