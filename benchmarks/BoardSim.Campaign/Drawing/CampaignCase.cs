namespace BoardSim.Campaign.Drawing;

/// <summary>
/// One case as data: block, values, faults, edits of parts and the settings of the run. It can be stored and run again after the
/// drawing has changed, which a seed alone cannot.
/// </summary>
public sealed record CampaignCase
{
    /// <summary>Where it comes from, or what it is kept for.</summary>
    public string Origin { get; init; } = "";

    /// <summary>Name of the block in the catalogue.</summary>
    public required string Block { get; init; }

    /// <summary>Quantities by key, as their units hold them; those that are not named keep their default.</summary>
    public SortedDictionary<string, double> Values { get; init; } = [];

    /// <summary>Words of the choices, by key.</summary>
    public SortedDictionary<string, string> Choices { get; init; } = [];

    /// <summary>Frequency of the line in hertz in place of the supply's; null leaves it.</summary>
    public double? LineFrequency { get; init; }

    /// <summary>Faults that the block declares.</summary>
    public IReadOnlyList<DrawnFault> Faults { get; init; } = [];

    /// <summary>What is done to parts after that.</summary>
    public IReadOnlyList<PartEdit> Edits { get; init; } = [];

    /// <summary>Length of the transient in seconds; null for an operating point.</summary>
    public double? Stop { get; init; }

    /// <summary>True for a start from initial conditions, false from an operating point.</summary>
    public bool FromInitialConditions { get; init; }

    /// <summary>Relative accuracy of the transient.</summary>
    public double Accuracy { get; init; } = 1e-3;

    /// <summary>Name of the integration method; null for the default.</summary>
    public string? Method { get; init; }
}

/// <summary>A fault of the block.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Severity">Severity in its unit; null where it has none.</param>
public sealed record DrawnFault(string Id, double? Severity);
