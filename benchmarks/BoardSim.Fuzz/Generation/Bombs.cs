namespace BoardSim.Fuzz.Generation;

/// <summary>Short texts that stand for much: what takes a reader minutes or gigabytes if it is not careful.</summary>
internal static class Bombs
{
    /// <summary>A netlist.</summary>
    public static string Netlist(Dice dice) => dice.Next(9) switch
    {
        0 => Multiplying(2, 60),
        1 => Multiplying(40, 2),
        2 => "t\nR1 1 0 1\n" + Repeat(dice.Of(100, 50_000), k => $".subckt s{k} p\n") + Repeat(50_000, _ => ".ends\n") + ".end\n",
        3 => "t\n" + Repeat(50_000, k => $"F{k} 1 0 R{k} 1\n") + ".end\n",
        4 => "t\nR1 1 0 1\n" + Repeat(24, _ => $".options {Repeat(40_000, _ => "a ")}\n") + ".end\n",
        5 => "t\nR1 1 0 1\n" + Repeat(30_000, k => $"X{k} 1 s\n") + $".subckt s p\n{Repeat(10, k => $"R{k} p 0 1\n")}.ends\n.end\n",
        6 => $"t\nR1 1 0 1\n.subckt s {Repeat(20_000, k => $"{k + 1} ")}\nR1 1 2 1\n.ends\n.end\n",
        7 => "t\nV1 1 0 PWL(" + Repeat(30_000, k => $"\n+ {k} {k}") + ")\nR1 1 0 1\n.end\n",
        _ => "t\n" + Repeat(90_000, k => $"R{k} {k} {k + 1} 1\n") + ".end\n",
    };

    /// <summary>A scenario file, within the length that is read at all.</summary>
    public static string Scenario(Dice dice)
    {
        const string head = "title: t\nblock: relay-driver\nconditions:\n  healthy:\n";
        const string watch = "observe:\n  o: {point: collector}\n";
        const string rest = "expect:\n  - {that: m of healthy > 1 V, why: w}\n";
        return dice.Next(8) switch
        {
            0 => head + Repeat(20_000, k => $"  c{k}:\n") + watch + rest,
            1 => head + "observe:\n" + Repeat(9_000, k => $"  o{k}: {{point: x{k}}}\n") + rest,
            2 => head + watch + "metrics:\n" + Repeat(7_000, k => $"  m{k}: {{take: mean, of: q{k}}}\n") + rest,
            3 => head + watch + $"sweep: {{vary: coil.resistance, points: [{Repeat(30_000, k => $"{k} ohm, ")}1 ohm], record: [m]}}\n" + rest,
            4 => "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + Repeat(12, k => $"a{k + 1}: &a{k + 1} [{Repeat(9, _ => $"*a{k},")}]\n"),
            5 => Repeat(dice.Of(17, 100_000), _ => dice.Of("[", "{a: ", "- ")),
            6 => head + watch + $"figures:\n  f: {{kind: waveforms, title: t, show: [o], over: \"{Repeat(30_000, _ => " to ")}\\n\"}}\n" + rest,
            _ => head + watch + "expect:\n" + Repeat(6_000, k => $"  - {{that: m{k} of c{k} > 1 V, why: w}}\n"),
        };
    }

    private static string Multiplying(int levels, int calls) =>
        "t\nX1 1 s0\n"
        + Repeat(levels, k => $".subckt s{k} p\n{Repeat(calls, c => $"X{c} p s{k + 1}\n")}.ends\n")
        + $".subckt s{levels} p\n{Repeat(calls, c => $"R{c} p 0 1\n")}.ends\n.end\n";

    private static string Repeat(int times, Func<int, string> line) => string.Concat(Enumerable.Range(0, times).Select(line));
}
