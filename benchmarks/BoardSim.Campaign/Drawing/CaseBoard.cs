using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Campaign.Drawing;

/// <summary>The board of a case.</summary>
public static class CaseBoard
{
    /// <summary>The block with the values of a case.</summary>
    public static Block Block(CampaignCase drawn)
    {
        ArgumentNullException.ThrowIfNull(drawn);
        var block = BlockCatalogue.Create(drawn.Block);
        foreach (var (key, word) in drawn.Choices)
        {
            block.Value(key).Set(block, word);
        }

        foreach (var (key, value) in drawn.Values)
        {
            block.Value(key).Set(block, value);
        }

        return block;
    }

    /// <summary>The block on its bench, with faults and edits.</summary>
    public static Board Build(CampaignCase drawn)
    {
        ArgumentNullException.ThrowIfNull(drawn);
        var board = Faulty(drawn);
        for (var k = 0; k < drawn.Edits.Count; k++)
        {
            drawn.Edits[k].Apply(board.Circuit, k + 1);
        }

        return board;
    }

    /// <summary>The board before its parts are edited.</summary>
    internal static Board Faulty(CampaignCase drawn)
    {
        var block = Block(drawn);
        var board = block.Build();
        foreach (var fault in drawn.Faults)
        {
            board = board.With(block.Fault(fault.Id), fault.Severity);
        }

        if (drawn.LineFrequency is { } hertz)
        {
            foreach (var sine in board.Circuit.Devices.OfType<VoltageSource>().Select(s => s.Waveform).OfType<SineWaveform>())
            {
                sine.Frequency = hertz;
            }
        }

        return board;
    }
}
