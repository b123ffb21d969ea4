using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Faults;

/// <summary>The edits that most faults are made of. They change the board they are given, so give them a copy.</summary>
public static class PartEdits
{
    /// <summary>Resistance in ohms of a lead that is cut: air and a dirty board, high enough to be open for any meter, low enough
    /// to leave no node without a path.</summary>
    public const double OpenOhms = 1e9;

    /// <summary>Resistance in ohms of a part that has fused together.</summary>
    public const double ShortOhms = 0.01;

    /// <summary>Cuts a lead of a part (broken lead, dry joint, burnt-out track): what is left of it is <see cref="OpenOhms"/>.</summary>
    /// <param name="board">The board to change.</param>
    /// <param name="part">Name of the part.</param>
    /// <param name="terminal">Which lead, from 0.</param>
    public static void Open(Board board, string part, int terminal = 0) => InSeries(board, part, OpenOhms, terminal);

    /// <summary>Puts a resistance into a lead of a part; the new resistor is named after the part with <c>R_cut_</c> before it.</summary>
    /// <param name="board">The board to change.</param>
    /// <param name="part">Name of the part.</param>
    /// <param name="ohms">The resistance in ohms, positive.</param>
    /// <param name="terminal">Which lead, from 0.</param>
    public static void InSeries(Board board, string part, double ohms, int terminal = 0)
    {
        ArgumentNullException.ThrowIfNull(board);
        var device = board.Circuit[part];
        var outer = device.Nodes[terminal];
        var inner = $"{part}_lead{terminal}";
        device.Rewire(terminal, inner);
        Add(board, new Resistor($"R_cut_{part}_{terminal}", outer, inner, ohms));
    }

    /// <summary>Replaces a two-terminal part by a low resistance under the same name (punch-through, fused contacts), so that a
    /// current measured through the part is still measured.</summary>
    /// <param name="board">The board to change.</param>
    /// <param name="part">Name of the part.</param>
    /// <param name="ohms">What is left of it, in ohms, positive.</param>
    public static void Short(Board board, string part, double ohms = ShortOhms)
    {
        ArgumentNullException.ThrowIfNull(board);
        var device = board.Circuit[part];
        board.Circuit.Replace(new Resistor(part, device.Nodes[0], device.Nodes[1], ohms));
    }

    /// <summary>Puts a resistance across two leads of a part (leaking junction, damp, carbonised board); the new resistor is named
    /// after the part with <c>R_across_</c> before it.</summary>
    /// <param name="board">The board to change.</param>
    /// <param name="part">Name of the part.</param>
    /// <param name="ohms">The resistance in ohms, positive.</param>
    /// <param name="first">One lead, from 0.</param>
    /// <param name="second">The other lead, from 0.</param>
    public static void Across(Board board, string part, double ohms, int first = 0, int second = 1)
    {
        ArgumentNullException.ThrowIfNull(board);
        var device = board.Circuit[part];
        Add(board, new Resistor($"R_across_{part}", device.Nodes[first], device.Nodes[second], ohms));
    }

    /// <summary>Unplugs a board: of each named part that it has, <see cref="OpenOhms"/> are left between its first two leads.</summary>
    /// <param name="board">The board to change.</param>
    /// <param name="parts">Names of the parts; those that the board does not have are passed over.</param>
    public static void Unplug(Board board, IEnumerable<string> parts)
    {
        ArgumentNullException.ThrowIfNull(board);
        ArgumentNullException.ThrowIfNull(parts);
        foreach (var device in parts.Select(board.Circuit.Find).OfType<Device>())
        {
            board.Circuit.Replace(new Resistor(device.Name, device.Nodes[0], device.Nodes[1], OpenOhms));
        }
    }

    /// <summary>Changes a part in place.</summary>
    /// <typeparam name="T">Type of the part.</typeparam>
    /// <param name="board">The board to change.</param>
    /// <param name="part">Name of the part.</param>
    /// <param name="change">What to do to it.</param>
    /// <exception cref="FaultException">An earlier fault has put a part of another type into its place.</exception>
    public static void Change<T>(Board board, string part, Action<T> change)
        where T : Device
    {
        ArgumentNullException.ThrowIfNull(board);
        ArgumentNullException.ThrowIfNull(change);
        change(Get<T>(board, part));
    }

    /// <summary>A part that a fault is about to change.</summary>
    /// <typeparam name="T">Type of the part.</typeparam>
    /// <param name="board">The board.</param>
    /// <param name="part">Name of the part.</param>
    /// <exception cref="FaultException">An earlier fault has put a part of another type into its place.</exception>
    public static T Get<T>(Board board, string part)
        where T : Device
    {
        ArgumentNullException.ThrowIfNull(board);
        return board.Circuit[part] as T
            ?? throw new FaultException($"an earlier fault has replaced {part}, which this fault changes; leave one of the two out, or put this one first");
    }

    /// <summary>Adds a part that a fault brings with it.</summary>
    /// <param name="board">The board to change.</param>
    /// <param name="added">The part.</param>
    /// <exception cref="FaultException">An earlier fault has added it already.</exception>
    public static void Add(Board board, Device added)
    {
        ArgumentNullException.ThrowIfNull(board);
        ArgumentNullException.ThrowIfNull(added);
        if (board.Circuit.Find(added.Name) is not null)
        {
            throw new FaultException($"an earlier fault has added {added.Name} already, in the same place; leave one of the two out");
        }

        board.Circuit.Add(added);
    }
}
