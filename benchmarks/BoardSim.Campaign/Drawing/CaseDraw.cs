using System.Globalization;
using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Numerics;
using BoardSim.Faults;

namespace BoardSim.Campaign.Drawing;

/// <summary>Draws cases: the same seed and number give the same case, whatever was drawn before.</summary>
public static class CaseDraw
{
    /// <summary>Values that do not fit together are drawn again, so often at most.</summary>
    private const int Attempts = 1000;

    /// <summary>Periods of the fastest source that a run lasts at most.</summary>
    private const double MostPeriods = 2_000;

    /// <summary>Draws a case.</summary>
    /// <param name="seed">Seed of the campaign.</param>
    /// <param name="index">Number of the case, from 0.</param>
    /// <param name="only">Name of the block that all cases are drawn from; null for all blocks.</param>
    public static CampaignCase Draw(ulong seed, ulong index, string? only = null)
    {
        var random = new CounterRandom(seed, index);
        var any = random.Any(BlockCatalogue.All);
        var id = only ?? any.Id;
        for (var attempt = 0; attempt < Attempts; attempt++)
        {
            var drawn = Values(random, BlockCatalogue.Create(id)) with { Origin = string.Create(CultureInfo.InvariantCulture, $"seed {seed}, case {index}") };
            if (CaseBoard.Block(drawn).Problems().Count > 0)
            {
                continue;
            }

            // A severity that is legal by itself may not suit the values: a curve shifted until it rises, say.
            drawn = Parts(random, drawn);
            if (!CaseBoard.Build(drawn).Circuit.Devices.SelectMany(d => d.Problems()).Any())
            {
                return Run(random, drawn);
            }
        }

        throw new InvalidOperationException($"{id}: {Attempts} draws of values in a row did not fit together.");
    }

    private static CampaignCase Values(CounterRandom random, Block block)
    {
        var drawn = new CampaignCase { Block = block.Id };
        foreach (var value in block.Values)
        {
            if (value.Kind == ValueKind.Choice)
            {
                drawn.Choices[value.Key] = random.Any(value.Choices);
            }
            else if (value.Default is not null || random.Chance(0.5))
            {
                drawn.Values[value.Key] = Quantity(random, value);
            }
        }

        return drawn;
    }

    /// <summary>A decade either way of the default; temperatures and angles over their whole range, as do values without a default.</summary>
    private static double Quantity(CounterRandom random, ValueDefinition value)
    {
        var (low, high) = (value.Minimum, value.Maximum);
        if (value.Unit is "degC" or "K" && value.Minimum > 200 || value.Unit == "deg")
        {
            return random.Between(low, high);
        }

        if (value.Default is double usual && usual > 0)
        {
            (low, high) = (Math.Max(low, 0.1 * usual), Math.Min(high, 10 * usual));
        }
        else if (value.Unit == "s")
        {
            // An instant that most runs reach.
            high = Math.Min(high, 0.1);
        }

        var drawn = random.AcrossDecades(Math.Max(low, 1e-6 * high), high);
        return value.Description.Contains("whole number", StringComparison.Ordinal) ? Math.Max(Math.Ceiling(low), Math.Round(drawn)) : drawn;
    }

    private static CampaignCase Parts(CounterRandom random, CampaignCase drawn)
    {
        var faults = new List<DrawnFault>();
        var free = CaseBoard.Block(drawn).Faults.ToList();
        for (var left = random.Any([0, 0, 1, 1, 2]); left > 0 && free.Count > 0; left--)
        {
            var fault = random.Any(free);
            faults.Add(new DrawnFault(fault.Id, Severity(random, fault)));

            // Two faults of the same part contradict each other, as often as not.
            free.RemoveAll(f => f.Part == fault.Part);
        }

        drawn = drawn with { Faults = faults };
        var board = CaseBoard.Faulty(drawn);
        if (board.LineFrequency is not null && random.Chance(0.5))
        {
            drawn = drawn with { LineFrequency = random.AcrossDecades(16, 400) };
        }

        var edits = new List<PartEdit>();
        for (var left = random.Any([0, 0, 1, 1, 2]); left > 0; left--)
        {
            edits.Add(EditDraw.Draw(random, board.Circuit));
            edits[^1].Apply(board.Circuit, edits.Count);
        }

        return drawn with { Edits = edits };
    }

    private static double? Severity(CounterRandom random, FaultDefinition fault) => fault.Severity switch
    {
        null => null,
        { Minimum: > 0 } s => Math.Clamp(random.AcrossDecades(s.Minimum, s.Maximum), s.Minimum, s.Maximum),
        { } s => random.Between(s.Minimum, s.Maximum),
    };

    private static CampaignCase Run(CounterRandom random, CampaignCase drawn)
    {
        var board = CaseBoard.Build(drawn);
        var atRest = random.Chance(board.SuggestedStop is null ? 0.5 : 0.1);
        var stop = Length(random, board, drawn.LineFrequency);
        drawn = drawn with
        {
            FromInitialConditions = random.Chance(0.5),
            Accuracy = random.AcrossDecades(1e-4, 1e-1),

            // Half of the cases take what the engine takes by itself.
            Method = random.Any([null, null, null, null, null, StageMethod.Esdirk3.Name, StageMethod.Esdirk3.Name, StageMethod.Esdirk4.Name, StageMethod.Esdirk4.Name, StageMethod.TrBdf2.Name]),
        };
        return atRest ? drawn : drawn with { Stop = stop };
    }

    /// <summary>Some tens of switching periods, some line cycles, most of what the board suggests, or any time there is.</summary>
    private static double Length(CounterRandom random, Board board, double? lineFrequency) => Math.Min(DrawnLength(random, board, lineFrequency), MostPeriods / Fastest(board));

    /// <summary>Frequency in hertz of the fastest source that repeats: an interference generator of megahertz is not run for seconds.</summary>
    private static double Fastest(Board board) => board.Circuit.Devices
        .Select(d => d switch { VoltageSource v => v.Waveform, CurrentSource i => i.Waveform, _ => null })
        .Select(w => w switch { SineWaveform { Amplitude: not 0 } s => s.Frequency, PulseWaveform p => 1 / p.Period, _ => 0 })
        .Append(0)
        .Max();

    private static double DrawnLength(CounterRandom random, Board board, double? lineFrequency)
    {
        if (board.SwitchingFrequency is { } switching)
        {
            return random.AcrossDecades(3, 40) / switching;
        }

        if (board.LineFrequency is { } line)
        {
            return random.AcrossDecades(1, 8) / (lineFrequency ?? line);
        }

        return board.SuggestedStop is { } stop ? stop * random.Between(0.3, 1) : random.AcrossDecades(1e-6, 10);
    }
}
