namespace BoardSim.Quantities;

/// <summary>Symmetrical tolerances by their letter, IEC 60062 (letters in common use; from memory, F and K confirmed).</summary>
public static class ToleranceLetter
{
    /// <summary>Tolerance of a letter.</summary>
    /// <param name="letter">Upper case, B to M as in the standard.</param>
    /// <param name="fraction">Plus or minus this fraction: 0.01 for F; 0 when the letter is not known.</param>
    /// <returns>True when the letter is known.</returns>
    public static bool TryGet(char letter, out double fraction)
    {
        fraction = letter switch
        {
            'B' => 0.001,
            'C' => 0.0025,
            'D' => 0.005,
            'F' => 0.01,
            'G' => 0.02,
            'J' => 0.05,
            'K' => 0.10,
            'M' => 0.20,
            _ => 0,
        };
        return fraction > 0;
    }
}
