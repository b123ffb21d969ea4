using System.Globalization;
using System.Text;

namespace BoardSim.Fuzz.Generation;

/// <summary>
/// Makes whole Berkeley netlists: parts, models, subcircuits and their calls, analyses, output, continuation lines, comments. Most
/// of a text is right, so that reading comes far; now and then a word is not.
/// </summary>
internal sealed class NetlistGrammar(Dice dice)
{
    private static readonly (string Type, string[] Parameters)[] ModelTypes =
    [
        ("R", ["TC1", "TC2", "RSH", "DEFW", "NARROW", "TNOM"]),
        ("C", ["CJ", "CJSW", "DEFW", "NARROW"]),
        ("D", ["IS", "RS", "N", "TT", "CJO", "VJ", "M", "EG", "XTI", "FC", "BV", "IBV", "TNOM"]),
        ("NPN", ["IS", "BF", "NF", "VAF", "IKF", "ISE", "NE", "BR", "RB", "RE", "RC", "CJE", "TF", "CJC", "TR", "XTB"]),
        ("PNP", ["IS", "BF", "NF", "VAF", "BR", "RB", "CJE", "CJC"]),
        ("NMOS", ["VTO", "KP", "GAMMA", "PHI", "LAMBDA", "RD", "CBD", "IS", "TOX", "NSUB", "LEVEL", "CGSO", "UO", "LD"]),
        ("PMOS", ["VTO", "KP", "LAMBDA"]),
        ("SW", ["RON", "ROFF", "VT", "VH"]),
        ("CSW", ["RON", "ROFF", "IT", "IH"]),
    ];

    private readonly StringBuilder text = new();
    private readonly List<string> sources = [];
    private readonly List<string> coils = [];
    private readonly Dictionary<char, int> counts = [];
    private int nodes = 4;

    /// <summary>One netlist.</summary>
    public string Make()
    {
        Line("* made by chance");
        nodes = dice.Between(2, 12);
        var cells = dice.OneIn(3) ? dice.Between(1, 4) : 0;
        for (var k = 0; k < cells; k++)
        {
            Cell(k, cells, 0);
        }

        for (var parts = dice.Between(1, 25); parts > 0; parts--)
        {
            Part(cells);
        }

        foreach (var (type, parameters) in ModelTypes)
        {
            Model(type, parameters);
        }

        for (var cards = dice.Between(0, 5); cards > 0; cards--)
        {
            Control();
        }

        if (!dice.OneIn(50))
        {
            Line(".end");
        }

        return text.ToString();
    }

    private void Cell(int number, int cells, int depth)
    {
        Line($".subckt cell{number} a b{(dice.OneIn(8) ? " c" : "")}");
        if (depth < 3 && dice.OneIn(8))
        {
            Cell(number + 100, cells, depth + 1);
        }

        for (var parts = dice.Between(1, 6); parts > 0; parts--)
        {
            Line(dice.Next(4) switch
            {
                0 => $"R{parts} a b {Value(1, 1e6)}",
                1 => $"C{parts} a m {Value(1e-12, 1e-3)}",
                2 => $"D{parts} m b dmod",

                // A call of any cell, itself included: some of these circles have no end.
                _ => $"X{parts} a b cell{dice.Next(cells)}",
            });
        }

        if (!dice.OneIn(40))
        {
            Line(dice.OneIn(2) ? ".ends" : $".ends cell{number}");
        }
    }

    private void Part(int cells)
    {
        var letter = dice.Of([.. "RRRRCCLLVVIDDQMEGFHSWKX"]);
        var number = counts[letter] = counts.GetValueOrDefault(letter) + 1;
        var name = dice.OneIn(200) ? $"{letter}1" : $"{letter}{number}";
        var (a, b) = (Node(), Node());
        var line = letter switch
        {
            'R' => $"{name} {a} {b} {Value(1e-3, 1e9)}{(dice.OneIn(6) ? " rmod" : "")}{(dice.OneIn(20) ? " L=10u W=2u" : "")}",
            'C' => $"{name} {a} {b} {Value(1e-12, 1)}{(dice.OneIn(4) ? $" IC={Number()}" : "")}",
            'L' => $"{name} {a} {b} {Value(1e-9, 10)}{(dice.OneIn(4) ? $" IC={Number()}" : "")}",
            'V' or 'I' => $"{name} {a} {b} {Source()}",
            'D' => $"{name} {a} {b} dmod{(dice.OneIn(5) ? " 2" : "")}{(dice.OneIn(9) ? " OFF" : "")}",
            'Q' => $"{name} {a} {b} {Node()} {dice.Of("npnmod", "pnpmod")}",
            'M' => $"{name} {a} {b} {Node()} {Node()} {dice.Of("nmosmod", "pmosmod")} L={Value(1e-6, 1e-4)} W={Value(1e-6, 1e-2)}",
            'E' or 'G' => $"{name} {a} {b} {Node()} {Node()} {Number()}",
            'F' or 'H' => $"{name} {a} {b} {Of(sources, "V1")} {Number()}",
            'S' => $"{name} {a} {b} {Node()} {Node()} swmod{dice.Of("", " ON", " OFF")}",
            'W' => $"{name} {a} {b} {Of(sources, "V1")} cswmod",
            'K' => $"{name} {Of(coils, "L1")} {Of(coils, "L2")} {Value(0.1, 1.1)}",
            _ => $"{name} {a} {b} cell{dice.Next(Math.Max(1, cells))}",
        };
        if (letter == 'V')
        {
            sources.Add(name);
        }
        else if (letter == 'L')
        {
            coils.Add(name);
        }

        Line(line);
    }

    private string Source()
    {
        var waveform = dice.Next(6) switch
        {
            0 => $"SIN({Number()} {Number()} {Value(1, 1e6)} {Value(1e-6, 1)} {Number()})",
            1 => $"PULSE({Number()} {Number()} {Value(1e-6, 1)} {Value(1e-9, 1e-3)} {Value(1e-9, 1e-3)} {Value(1e-6, 1)} {Value(1e-6, 1)})",
            2 => $"PWL({string.Join(' ', Enumerable.Range(0, dice.Between(1, 8)).Select(k => $"{k}m {Number()}"))})",
            3 => $"EXP({Number()} {Number()} 1u 2u 3u 4u)",
            4 => $"PULSE({Number()} {Number()})",
            _ => Number(),
        };
        return $"{(dice.OneIn(2) ? $"DC {Number()} " : "")}{(dice.OneIn(3) ? $"AC {Number()} {Number()} " : "")}{waveform}";
    }

    private void Model(string type, string[] parameters)
    {
        var chosen = parameters.Where(_ => dice.OneIn(4)).Select(p => $"{p}={Parameter(p)}");
        Line($".model {type.ToLowerInvariant()}mod {type}({string.Join(' ', chosen)})");
    }

    private string Parameter(string name) => name switch
    {
        "LEVEL" => "1",
        "IS" or "CJO" or "CJ" or "CJE" or "CJC" or "TF" or "TR" or "TT" => Value(1e-16, 1e-9),
        "RON" or "RB" or "RS" or "RE" or "RC" or "RD" => Value(1e-3, 1e3),
        "ROFF" => Value(1e3, 1e9),
        _ => Value(0.1, 100),
    };

    private void Control()
    {
        var v = Of(sources, "V1");
        Line(dice.Next(11) switch
        {
            0 => ".op",
            1 => $".dc {v} {Number()} {Number()} {Number()}",
            2 => $".dc {v} 0 {Value(1, 10)} {Value(0.1, 1)} I1 0 1m {Value(1e-5, 1e-3)}",
            3 => $".ac {dice.Of("dec", "oct", "lin")} {Count()} {Value(1e-3, 1e3)} {Value(1e3, 1e9)}",
            4 or 5 => $".tran {Value(1e-9, 1e-3)} {Value(1e-4, 10)}{(dice.OneIn(4) ? $" 0 {Value(1e-6, 1e-3)}" : "")}{dice.Of("", " UIC")}",
            6 => $".ic V({Node()})={Number()}",
            7 => $".print {dice.Of("tran", "dc", "ac")} V({Node()}) V({Node()},{Node()}) I({v})",
            8 => $".options {dice.Of("temp", "tnom", "defl", "gmin", "reltol")}={Number()}",
            9 => $".{dice.Of("trn", "include x", "param a=1", "nodeset V(1)=2", "", "ends", "subckt", "subckt s", "end x", "model", "model m", "print", "ic", "dc", "ac dec", "tran")}",
            _ => $".subckt lone{dice.Next(3)} a 0",
        });
    }

    private string Node() => dice.OneIn(4) ? "0" : dice.OneIn(60) ? dice.Of("gnd", "GND", "0.X1", "m.X1", "a.b", "1e5", "é", "V(1)") : dice.Next(nodes).ToString(CultureInfo.InvariantCulture);

    private string Count() => dice.OneIn(12) ? dice.Of("0", "-1", "1.5", "1e7", "1e12", "10000000") : dice.Between(1, 50).ToString(CultureInfo.InvariantCulture);

    private string Number() => dice.OneIn(25) ? dice.Of(Oddities.Numbers) : Value(1e-3, 1e3, dice.OneIn(4));

    private string Value(double least, double most, bool negative = false)
    {
        if (dice.OneIn(150))
        {
            return dice.Of(Oddities.Numbers);
        }

        var value = dice.Decades(least, most) * (negative ? -1 : 1);
        return value.ToString(dice.OneIn(2) ? "G3" : "E2", CultureInfo.InvariantCulture)
            + (dice.OneIn(10) ? dice.Of("k", "meg", "m", "u", "n", "p", "f", "mil", "ohm", "V", "Hz", "t", "g") : "");
    }

    private string Of(List<string> names, string otherwise) => names.Count == 0 || dice.OneIn(30) ? otherwise : dice.Of(names);

    /// <summary>Adds a line, now and then folded, commented, in capitals or with other white space.</summary>
    private void Line(string line)
    {
        if (dice.OneIn(25))
        {
            text.Append("* ").Append(dice.Of("a remark", "; $ +", "é ∞")).Append('\n');
        }

        if (dice.OneIn(15) && line.IndexOf(' ', line.Length / 2) is var at and > 0)
        {
            line = string.Concat(line.AsSpan(0, at), dice.Of("\n+", "\n  + ", "\n*comment\n+", "\r\n+", "\n\n+"), line.AsSpan(at));
        }

        text.Append(dice.OneIn(10) ? line.ToUpperInvariant() : line).Append(dice.OneIn(40) ? "\r\n" : "\n");
    }
}
