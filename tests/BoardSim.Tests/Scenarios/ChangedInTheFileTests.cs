using System.Globalization;
using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>No symptom is scripted: what a user changes in a scenario's file shows in what comes out, as the closed forms say.</summary>
public class ChangedInTheFileTests
{
    private const double Input = 160;
    private const double Start = 16;
    private const double Stop = 9.5;

    // Beside the electrolytic capacitor there is a ceramic one of 100 nF at the controller's pin.
    private const double Ceramic = 100e-9;

    // The supply of a controller that nothing feeds, between two voltages: a capacitor, the start resistor from the bulk voltage, and a current that goes with the voltage (20 uA
    // at 16 V while it waits, 3 mA at 16 V and 0.625 mA of the feedback's pull-up while it runs). Exponential towards where all balance: t = R C ln((V - v1) / (V - v2)),
    // charge of an RC (any textbook on circuits).
    private static double Time(double farads, double startOhms, double ownOhms, double ownAmperes, double from, double to)
    {
        var siemens = 1 / startOhms + 1 / ownOhms;
        var end = (Input / startOhms - ownAmperes) / siemens;
        return farads / siemens * Math.Log((end - from) / (end - to));
    }

    private static double Waits(double farads, double startOhms, double from) => Time(farads, startOhms, Start / 20e-6, 0, from, Start);

    private static double Period(double farads, double startOhms) => Waits(farads, startOhms, Stop) + Time(farads, startOhms, Start / 3e-3, 0.625e-3, Start, Stop);

    [Theory]
    [InlineData(44, 220)]
    [InlineData(33, 220)]
    [InlineData(44, 110)]
    [InlineData(22, 440)]
    public void The_hiccup_follows_the_capacitor_and_the_start_resistor_of_the_file(double microfarads, double kilohms)
    {
        var text = File.ReadAllText(Path.Combine(Repository.Scenarios, "supply-hiccup.yaml"));
        text = Changed(text, "vcc.capacitance: 44 uF", $"vcc.capacitance: {Number(microfarads)} uF");
        text = Changed(text, "start.resistance: 220 kohm", $"start.resistance: {Number(kilohms)} kohm");
        var beats = Numbers(text, "beat");
        Assert.Equal(1, beats["shorted"] / Period(22e-6 + Ceramic, kilohms * 1e3), 0.03);
        Assert.Equal(1, beats["shorted-double"] / Period(microfarads * 1e-6 + Ceramic, kilohms * 1e3), 0.03);
    }

    // From nothing to the start voltage; until the rail is up the soft start's milliseconds come on top.
    [Theory]
    [InlineData(22, 330)]
    [InlineData(22, 165)]
    [InlineData(44, 330)]
    public void The_start_follows_them_too(double microfarads, double kilohms)
    {
        var text = $$$"""
            title: Start
            block: flyback-supply
            values: {vcc.capacitance: {{{Number(microfarads)}}} uF, start.resistance: {{{Number(kilohms)}}} kohm}
            run: {start: switch-on, stop: 1.7 s}
            conditions:
              healthy: {label: healthy}
            observe:
              starts: {label: Starts, state: starts}
            metrics:
              begins: {take: time-to-rise, of: starts, with: {level: 0.5}}
            expect:
              - {that: begins of healthy has a value, why: It starts.}
            """;
        Assert.Equal(1, Numbers(text, "begins")["healthy"] / Waits(microfarads * 1e-6 + Ceramic, kilohms * 1e3, 0), 0.01);
    }

    private static string Number(double value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Changed(string text, string right, string other)
    {
        Assert.Contains(right, text, StringComparison.Ordinal);
        return text.Replace(right, other, StringComparison.Ordinal);
    }

    private static Dictionary<string, double> Numbers(string text, string metric)
    {
        var result = ScenarioRunner.Run(ScenarioFile.Parse(text, "changed.yaml"), new RunOptions { MaxParallel = 1 });
        return result.Conditions.Where(c => c.Value(metric) is { } value && double.IsFinite(value)).ToDictionary(c => c.Name, c => c.Value(metric)!.Value);
    }
}
