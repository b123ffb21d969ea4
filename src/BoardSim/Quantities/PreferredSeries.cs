namespace BoardSim.Quantities;

/// <summary>Series of preferred numbers for resistors and capacitors (IEC 60063); the value is the count per decade.</summary>
public enum PreferredSeries
{
    /// <summary>Three values per decade.</summary>
    E3 = 3,

    /// <summary>Six values per decade, customarily with 20 % tolerance.</summary>
    E6 = 6,

    /// <summary>Twelve values per decade, customarily with 10 % tolerance.</summary>
    E12 = 12,

    /// <summary>Twenty-four values per decade, customarily with 5 % tolerance.</summary>
    E24 = 24,

    /// <summary>Forty-eight values per decade, customarily with 2 % tolerance.</summary>
    E48 = 48,

    /// <summary>Ninety-six values per decade, customarily with 1 % tolerance.</summary>
    E96 = 96,
}
