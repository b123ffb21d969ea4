using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>
/// Energy of the whole board's low-voltage side from switch-on on: what the converter brings to the 12 V rail is heat in regulator, coils, transistors, pins and loads, or stored.
/// The regulator's share is told by its temperatures, not by its voltages: what it has taken is what has warmed it and what the air has got.
/// </summary>
public class LowVoltageEnergyTests
{
    private const double Accuracy = 1e-3;
    private const double Stop = 1.6;
    private const string Junction = "regulator.U1#temperature";
    private const string Case = "regulator.U1#case-temperature";
    private static readonly string[] Places = ["regulator", "processor", "heater-relay", "fan-relay", "sensor", "fan", "rail-load"];
    private static readonly string[] Relays = ["heater-relay", "fan-relay"];
    private static readonly Lazy<EnergyLedger> Book = new(Run);

    // Conservation of energy from the converter's choke to every part behind it.
    [Fact]
    public void What_the_rail_gets_is_heat_or_stored()
    {
        var book = Book.Value;
        var given = book.Between("rail-12v", "ground", ["supply.L_post"], ["supply.V_loop"]);
        var plain = book.Circuit.Devices.Where(IsPlain).Sum(book.Kept) + book.Kept(book.Circuit["supply.C_post"]);
        var coils = Relays.Sum(Coil);
        var transistors = Relays.Sum(Transistor);
        var program = book.Product(book.Level("rail-5v"), book.Amperes("processor.U1"));
        var pins = Pin("processor.P1") + Pin("processor.P2");
        var regulator = RegulatorHeat();
        Assert.True(plain > 3 && coils > 0.2 && program > 0.04 && regulator > 0.1 && pins > 1e-5 && transistors > 1e-3, $"{plain}, {coils}, {program}, {regulator}, {pins}, {transistors} J");
        Near(given, plain + coils + transistors + program + pins + regulator);
    }

    // A series regulator turns (Vin - Vout) Iout + Vin Iq into heat (any maker's data sheet, "power dissipation"); 5 mA is its quiescent current here. It takes part of its quiescent
    // current only below two volts of input, where it spends some milliseconds.
    [Fact]
    public void The_regulator_gets_as_warm_as_its_voltages_say()
    {
        var book = Book.Value;
        double[] across = [.. book.Level("rail-12v").Zip(book.Level("rail-5v"), (a, b) => a - b)];
        double[] input = [.. book.Level("rail-12v").Zip(book.Level("ground"), (a, b) => a - b)];
        double[] quiet = [.. input.Select(_ => 5e-3)];
        var loss = book.Product(across, book.Amperes("regulator.U1")) + book.Product(input, quiet);
        Near(loss, RegulatorHeat());
    }

    // Heat that has gone into junction and case, and from there to the air at the board's 35 degC.
    private static double RegulatorHeat()
    {
        var book = Book.Value;
        var u = (SeriesRegulator)book.Circuit["regulator.U1"];
        var air = u.Ambient ?? book.Circuit.Temperature;
        double[] over = [.. book.Level(Case).Select(kelvin => kelvin - air)];
        double[] one = [.. over.Select(_ => 1.0)];
        return u.JunctionCapacity * (book.Level(Junction)[^1] - air) + u.CaseCapacity * over[^1] + book.Product(over, one) / u.CaseToAir;
    }

    // Heat of the winding by I^2 R, and what its field holds at the end. The work on the armature, I^2 / 2 times what the inductance grows by (0.3 mJ), is left out.
    private static double Coil(string relay)
    {
        var (book, name) = (Book.Value, $"{relay}.K1");
        var coil = (RelayCoil)book.Circuit[name];
        var amperes = book.Amperes(name);
        return book.Product(amperes, amperes) * coil.Resistance + 0.5 * coil.PulledInInductance * amperes[^1] * amperes[^1];
    }

    // Collector and base current times their voltages; the base current is that of its resistor less that of the pull-down.
    private static double Transistor(string relay)
    {
        var book = Book.Value;
        double Base(string part) => ((Resistor)book.Circuit[$"{relay}.{part}"]).Resistance;
        var (r, down) = (Base("R_base"), Base("R_pulldown"));
        double[] into = [.. book.Volts($"{relay}.R_base").Zip(book.Volts($"{relay}.R_pulldown"), (a, b) => a / r - b / down)];
        double[] across = [.. book.Level($"{relay}.collector").Zip(book.Level("ground"), (a, b) => a - b)];
        return book.Product(across, book.Amperes($"{relay}.Q_switch")) + book.Product(book.Volts($"{relay}.R_pulldown"), into);
    }

    // A pin that gives drops what is missing from the supply, one that takes drops what it stands at.
    private static double Pin(string port)
    {
        var book = Book.Value;
        var pin = book.Circuit[port].Nodes[0];
        var amperes = book.Amperes(port);
        double[] across = [.. amperes.Select((i, k) => i < 0 ? book.Level(pin)[k] - book.Level("rail-5v")[k] : book.Level(pin)[k] - book.Level("ground")[k])];
        return book.Product(across, amperes);
    }

    private static bool IsPlain(Device device) =>
        Places.Contains(device.Name.Split('.')[0]) && device.Name != "heater-relay.S_contact"
        && device is not (SeriesRegulator or RelayCoil or BipolarTransistor or Processor or ProcessorPort or Coupling);

    private static void Near(double expected, double actual) => Assert.InRange(actual / expected, 1 - 3 * Accuracy, 1 + 3 * Accuracy);

    private static EnergyLedger Run()
    {
        var circuit = BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v.yaml")).Make().Build().Circuit;
        return new(
            circuit,
            Stop,
            Accuracy,
            d => Places.Contains(d.Name.Split('.')[0]) || d.Name is "supply.L_post" or "supply.C_post" or "supply.V_loop",
            ["rail-12v", "rail-5v", "ground", "heat-command", "fan-command", "heater-relay.collector", "fan-relay.collector"],
            Junction,
            Case);
    }
}
