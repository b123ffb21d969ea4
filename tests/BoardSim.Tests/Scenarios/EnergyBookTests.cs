using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>
/// Energy of the whole board's line side from switch-on on: what comes from the line is heat, stored, or delivered.
/// </summary>
public class EnergyBookTests
{
    private const double Accuracy = 1e-3;
    private const double Stop = 1.6;
    private static readonly string[] LineSide = ["mains", "entry", "bridge"];
    private static readonly Lazy<EnergyLedger> Book = new(Run);

    // Conservation of energy from the service entrance to the bulk capacitor's terminals and to the heater.
    [Fact]
    public void What_the_line_gives_is_heat_stored_or_delivered()
    {
        var book = Book.Value;
        var given = -book.Flow("mains.V_line");
        var kept = book.Circuit.Devices.Where(d => LineSide.Contains(d.Name.Split('.')[0]) && d.Name != "mains.V_line").Sum(book.Kept);
        var heater = book.Flow("heater.R_element") + book.Flow("heater-relay.S_contact");
        var converter = book.Between("bulk", "return", ["bridge.D1", "bridge.D2"], ["bridge.C_bulk"]);
        Assert.True(given > 20 && heater > 10 && converter > 5 && kept > 0.3, $"{given}, {heater}, {converter}, {kept} J");
        Near(given, kept + heater + converter);
    }

    // What goes through the barrier is less than what the converter takes, by no less than what its rectifier and its start resistor must lose.
    [Fact]
    public void What_the_converter_gives_is_less_than_it_takes_by_its_losses()
    {
        var book = Book.Value;
        var taken = book.Between("bulk", "return", ["bridge.D1", "bridge.D2"], ["bridge.C_bulk"]);
        var given = book.Between("supply.rect", "ground", ["supply.L_post", "supply.C_out1", "supply.C_out2"], []);

        // At least the rectifier's 0.33 V for each coulomb, and the start resistor by Ohm's law (160 V over 330 kohm, 78 mW); at most what such a supply may lose,
        // a quarter (common practice, no source).
        var coulombs = given / 12.1;
        Assert.InRange(taken - given, 0.33 * coulombs + 0.07 * Stop, 0.27 * taken);
    }

    // The engine's own book over all parts (Tellegen's theorem, integrated).
    [Fact]
    public void The_engines_own_book_of_the_whole_run_closes() => Assert.InRange(Book.Value.Result.Evidence.PowerBalance, 0, 10 * Accuracy);

    private static void Near(double expected, double actual) => Assert.InRange(actual / expected, 1 - 3 * Accuracy, 1 + 3 * Accuracy);

    private static EnergyLedger Run()
    {
        string[] others = ["heater.R_element", "heater-relay.S_contact", "supply.L_post", "supply.C_out1", "supply.C_out2"];
        var circuit = BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v.yaml")).Make().Build().Circuit;
        return new(circuit, Stop, Accuracy, d => LineSide.Contains(d.Name.Split('.')[0]) || others.Contains(d.Name), ["bulk", "return", "supply.rect", "ground"]);
    }
}
