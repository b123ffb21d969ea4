using System.Text;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Netlists.Reading;

namespace BoardSim.Engine.Netlists;

/// <summary>
/// Reads Berkeley SPICE3 netlists: R C L K V I E F G H D Q M S W X, .model (R C D NPN PNP NMOS PMOS level 1, SW CSW), .subckt, .op .dc .ac
/// .tran, .ic, .print, .options (TEMP TNOM DEFL DEFW DEFAD DEFAS), sources DC AC SIN PULSE PWL EXP. Whatever it does not know, or
/// could not compute as Berkeley means it, is an error with line and column; all errors of a text are reported at once.
/// Safe to call from several threads.
/// </summary>
public static class NetlistReader
{
    /// <summary>Largest file that is read, in bytes.</summary>
    public const long LargestFile = 16L << 20;

    /// <summary>Reads a file.</summary>
    /// <param name="path">Path of the file, UTF-8.</param>
    /// <exception cref="NetlistException">The text has errors.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be read.</exception>
    public static Netlist ReadFile(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        if (new FileInfo(path) is { Exists: true, Length: > LargestFile } big)
        {
            throw new IOException($"{path} has {big.Length} bytes; netlists of more than {LargestFile} bytes are not read.");
        }

        return Read(File.ReadAllText(path, Encoding.UTF8), path);
    }

    /// <summary>Reads a text.</summary>
    /// <param name="text">The whole netlist, its first line being the title.</param>
    /// <param name="name">What to call it in error messages; a file name as a rule.</param>
    /// <exception cref="NetlistException">The text has errors.</exception>
    public static Netlist Read(string text, string name = "netlist")
    {
        ArgumentNullException.ThrowIfNull(text);
        var findings = new Findings(endsReading: true);
        var remarks = new Findings(endsReading: false);
        Netlist? netlist = null;
        try
        {
            netlist = Read(text, findings, remarks);
        }
        catch (ReadingEndedException)
        {
            // The reasons are among the findings.
        }

        return netlist is null || findings.Count > 0 ? throw new NetlistException(name, findings.InOrder) : netlist with { Remarks = remarks.InOrder };
    }

    private static Netlist Read(string text, Findings findings, Findings remarks)
    {
        if (text.Length > LargestFile)
        {
            findings.Add(new NetlistFinding(1, 1, $"The netlist has {text.Length} characters; more than {LargestFile} are not read."));
            throw new ReadingEndedException();
        }

        var cards = LineSplitter.Split(text, findings, out var title);
        var structure = new StructureReader(findings);
        var top = structure.Read(cards);
        var controls = new ControlReader(findings);
        controls.Read(structure.Controls);
        ModelReader.Read(structure.Models, controls.Options, findings);

        var circuit = new Circuit { Title = title };
        controls.Options.Apply(circuit);
        var sources = new SourceReader(controls.Transient, remarks);
        var budget = new Budget();
        var parts = new PartReader(circuit, controls.Options, sources, budget, findings, remarks);
        parts.Expand(Call.Whole(top));
        parts.CheckReferences();
        foreach (var unused in top.Inward().Skip(1).Where(d => !d.IsCalled))
        {
            var alone = new PartReader(new Circuit(), controls.Options, sources, budget, findings, remarks);
            alone.Expand(Call.Alone(unused));
            alone.CheckReferences();
        }

        if (circuit.Devices.Count == 0 && findings.Count == 0)
        {
            findings.Add(new NetlistFinding(1, 1, "The netlist has no parts."));
        }

        Finish(controls, circuit, findings, remarks);
        var prints = controls.Prints.Select(p => new PrintCard(p.Kind, [.. p.Variables.Select(v => v.Variable)])).ToList();
        return new Netlist(circuit) { Analyses = controls.Analyses, Prints = prints };
    }

    /// <summary>Checks and applies the names in control cards, now that all parts and nodes are known.</summary>
    private static void Finish(ControlReader controls, Circuit circuit, Findings findings, Findings remarks)
    {
        var nodes = new HashSet<string>(circuit.Devices.SelectMany(d => d.Nodes), StringComparer.OrdinalIgnoreCase) { Circuit.Ground };
        foreach (var (at, volts) in controls.InitialVoltages)
        {
            CheckNode(at);
            if (!circuit.InitialVoltages.TryAdd(at.Text, volts))
            {
                findings.Add(at.Finding($"The voltage of node {at.Text} is given twice."));
            }
        }

        foreach (var (at, axis) in controls.Axes)
        {
            if (circuit.Find(axis.Source) is not (VoltageSource or CurrentSource))
            {
                var sources = circuit.Devices.Where(d => d is VoltageSource or CurrentSource).Select(d => d.Name);
                findings.Add(at.Finding($"A .dc card sweeps an independent source, and {axis.Source} is none{Nearest.Hint(axis.Source, sources)}."));
            }
        }

        foreach (var (name, against, variable) in controls.Prints.SelectMany(p => p.Variables))
        {
            if (!variable.IsCurrent)
            {
                CheckNode(name);
                if (against is { } second)
                {
                    CheckNode(second);
                }
            }
            else if (circuit.Find(variable.First) is not (VoltageSource or Inductor))
            {
                var holders = circuit.Devices.Where(d => d is VoltageSource or Inductor).Select(d => d.Name);
                findings.Add(name.Finding(circuit.Find(variable.First) is null
                    ? $"There is no part {name.Text} to print the current of{Nearest.Hint(name.Text, holders)}."
                    : $"Currents are printed of voltage sources and inductors; put a source of 0 V in series with {name.Text} and print that."));
            }
        }

        if (nodes.Contains("GND"))
        {
            remarks.Add(new NetlistFinding(1, 1, "A node is named gnd; it is a node like any other, the reference is node 0."));
        }

        void CheckNode(Token at)
        {
            if (!nodes.Contains(at.Text))
            {
                findings.Add(at.Finding($"No part connects to a node {at.Text}{Nearest.Hint(at.Text, nodes)}."));
            }
        }
    }
}
