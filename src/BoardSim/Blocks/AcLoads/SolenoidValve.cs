using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.AcLoads;

/// <summary>
/// Valve with a solenoid on the line: the plunger closes the magnetic circuit and opens the valve.
/// <code>
///  line o---+----[Y_valve]----+---o neutral
///           |                 |
///           +-----/\/\--------+
///                 R_core
/// </code>
/// </summary>
public sealed class SolenoidValve : Block
{
    /// <inheritdoc/>
    public override string Id => "solenoid-valve";

    /// <inheritdoc/>
    public override string Title => "Solenoid valve on the line";

    /// <inheritdoc/>
    public override string Summary =>
        "Lets steam or water in. While the plunger is out its gap keeps the inductance low and the current high; once it is in, the current falls to a half or less. A plunger that "
        + "sticks leaves the current at its inrush value, and the winding burns.";

    /// <inheritdoc/>
    public override string Topology => """
         line o---+----[Y_valve]----+---o neutral
                  |     plunger     |
                  +-----/\/\--------+
                        R_core
         (on the bench S_supply, with C_arc across it, puts the line on and takes it off)
        """;

    /// <inheritdoc/>
    public override bool LineSide => true;

    /// <inheritdoc/>
    protected override string? WrongWithRmsLine => "the current of a solenoid is set by its inductance, which an RMS value does not see: it would burn; take detail: waveform for the mains, or a board without this block.";

    /// <summary>RMS voltage of the bench's line in volts.</summary>
    [Quantity("line.voltage", "V", 1, 300, "RMS voltage of the bench's line.", OnBenchOnly = true)]
    public double LineVoltage { get; set; } = 120;

    /// <summary>Frequency of the bench's line in hertz.</summary>
    [Quantity("line.frequency", "Hz", 10, 1000, "Frequency of the bench's line.", OnBenchOnly = true)]
    public double LineFrequency { get; set; } = 60;

    /// <summary>Phase of the line at time zero in degrees.</summary>
    [Quantity("line.phase", "deg", 0, 360, "Phase of the bench's line at time zero; 90 deg is the peak.", OnBenchOnly = true)]
    public double LinePhase { get; set; }

    /// <summary>Instant in seconds when the line is put on.</summary>
    [Quantity("supply.on-at", "s", 0, 1e5, "When the bench puts the line on.", OnBenchOnly = true)]
    public double OnAt { get; set; } = 10e-3;

    /// <summary>Instant in seconds when it is taken off; null for never.</summary>
    [Quantity("supply.off-at", "s", 1e-3, 1e6, "When the bench takes the line off; never unless set.", OnBenchOnly = true)]
    public double? OffAt { get; set; }

    /// <summary>Temperature of what surrounds the coil, in kelvin.</summary>
    [Quantity("ambient", "degC", 233.15, 378.15, "Temperature of what surrounds the coil: warm beside a steam line.")]
    public double Ambient { get; set; } = 313.15;

    /// <summary>Resistance of the winding at 20 degC in ohms.</summary>
    [Quantity("coil.resistance", "ohm", 0.1, 1e6, "Resistance of the winding at 20 degC; some hundreds of ohms at 120 V.")]
    public double CoilResistance { get; set; } = 420;

    /// <summary>Inductance with the plunger out in henries.</summary>
    [Quantity("coil.released-inductance", "H", 1e-4, 1000, "Inductance with the plunger out.")]
    public double ReleasedInductance { get; set; } = 1.6;

    /// <summary>Inductance with the plunger in, in henries.</summary>
    [Quantity("coil.pulled-in-inductance", "H", 1e-4, 2000, "Inductance with the plunger pulled in; two to four times the other one.")]
    public double PulledInInductance { get; set; } = 4.2;

    /// <summary>Heat capacity of the winding in joules per kelvin.</summary>
    [Quantity("coil.heat-capacity", "J/K", 0.01, 1e5, "Heat capacity of the winding and what of the core follows it.")]
    public double HeatCapacity { get; set; } = 60;

    /// <summary>Thermal resistance of the winding in kelvin per watt.</summary>
    [Quantity("coil.thermal-resistance", "K/W", 0.01, 1000, "Thermal resistance from the winding to what surrounds it.")]
    public double ThermalResistance { get; set; } = 14;

    /// <summary>Temperature of the winding at the start, in kelvin; null for that of what surrounds it.</summary>
    [Quantity("coil.start-temperature", "degC", 233.15, 573.15, "Temperature of the winding at the start; that of what surrounds it unless set.")]
    public double? StartTemperature { get; set; }

    /// <summary>Resistance that takes the core's loss, in ohms.</summary>
    [Quantity("core.resistance", "ohm", 10, 1e9, "Resistance across the winding that takes what the core loses by eddy currents and hysteresis.")]
    public double CoreResistance { get; set; } = 12e3;

    /// <summary>Share of the pole that the shading ring embraces.</summary>
    [Quantity("ring.share", "", 0.01, 0.99, "Share of the pole that the shading ring embraces.")]
    public double RingShare { get; set; } = 0.5;

    /// <summary>Time constant of the shading ring in seconds.</summary>
    [Quantity("ring.time-constant", "s", 1e-7, 1, "Time constant of the shading ring with the plunger pulled in.")]
    public double RingTime { get; set; } = 3e-3;

    /// <summary>Mass of plunger and rod in kilograms.</summary>
    [Quantity("plunger.mass", "g", 1e-5, 10, "Mass of plunger and rod.")]
    public double Mass { get; set; } = 10e-3;

    /// <summary>Stroke of the plunger in metres.</summary>
    [Quantity("plunger.stroke", "m", 1e-4, 0.1, "Stroke of the plunger.")]
    public double Stroke { get; set; } = 4e-3;

    /// <summary>Force of the spring in newtons with the plunger out.</summary>
    [Quantity("spring.force", "N", 0, 1000, "Force of the return spring with the plunger out.")]
    public double SpringForce { get; set; } = 0.9;

    /// <summary>Force in newtons that the spring gains over the stroke.</summary>
    [Quantity("spring.gain", "N", 0, 1000, "Force that the return spring gains over the stroke.")]
    public double SpringGain { get; set; } = 0.4;

    /// <summary>Force of the medium in newtons that holds the valve shut.</summary>
    [Quantity("pressure.force", "N", 0, 1000, "Force with which the medium's pressure holds the valve shut; it is gone once the valve has opened a little.")]
    public double PressureForce { get; set; } = 1.6;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "line", Node = "line", Description = "Switched line." },
        new() { Name = "neutral", Node = "neutral", Description = "Neutral." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_line"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_line", "R_bond", "C_bond", "V_hand", "S_supply", "C_arc"];

    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults { get; } =
    [
        new(static (board, share) => PartEdits.Change<Solenoid>(board, "Y_valve", y => y.StuckAt = share))
        {
            Id = "plunger-stuck",
            Title = "Plunger stuck",
            Mechanism = "Lime, a swollen seal or a bent guide holds the plunger: the gap stays open, and the winding carries its inrush current for good until it burns.",
            Part = "Y_valve",
            Severity = new SeverityDefinition { Unit = "", Default = 0, Minimum = 0, Maximum = 1, Description = "Where it is stuck: 0 out, 1 pulled in." },
        },
        new(static (board, share) => PartEdits.Change<Solenoid>(board, "Y_valve", y => y.ShortedShare = share))
        {
            Id = "shorted-turns",
            Title = "Shorted turns in the winding",
            Mechanism = "Heat has broken down the enamel between layers: the closed turns are a shorted secondary that takes current whatever the plunger does, and the heat spreads.",
            Part = "Y_valve",
            Severity = new SeverityDefinition { Unit = "", Default = 0.05, Minimum = 1e-4, Maximum = 0.9, Description = "Share of the turns that are shorted." },
        },
        new(static (board, _) => PartEdits.Open(board, "Y_valve"))
        {
            Id = "winding-open",
            Title = "Winding open",
            Mechanism = "The wire has burnt through or torn at its terminal: full voltage, no current, no click.",
            Part = "Y_valve",
        },
        new(static (board, seconds) => PartEdits.Change<Solenoid>(board, "Y_valve", y => y.RingTime = seconds))
        {
            Id = "shading-ring-broken",
            Title = "Shading ring broken",
            Mechanism = "The copper ring in the pole face has cracked by hammering: the pull goes through zero twice a cycle and the plunger buzzes.",
            Part = "Y_valve",
            Severity = new SeverityDefinition { Unit = "s", Default = 10e-6, Minimum = 1e-7, Maximum = 1, Description = "Time constant that is left of the ring." },
        },
        new(static (board, newtons) => PartEdits.Change<Solenoid>(board, "Y_valve", y => y.PressureForce = newtons))
        {
            Id = "pressure-too-high",
            Title = "Pressure beyond what the valve can open against",
            Mechanism = "A failed pressure reducer upstream: the plunger is sound but not strong enough, and the winding stays at its inrush current.",
            Part = "Y_valve",
            Severity = new SeverityDefinition { Unit = "N", Default = 12, Minimum = 0, Maximum = 1e4, Description = "Force of the pressure on the valve." },
        },
    ];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (!(PulledInInductance > ReleasedInductance))
        {
            yield return "coil.pulled-in-inductance must be above coil.released-inductance: closing the gap raises it.";
        }

        if (OffAt <= OnAt)
        {
            yield return "supply.off-at must be later than supply.on-at.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_line", "outlet", "neutral", new SineWaveform { Amplitude = Math.Sqrt(2) * LineVoltage, Frequency = LineFrequency, PhaseDegrees = LinePhase }));
        LineWiring.AddBond(circuit);
        AddSupply(circuit);
        circuit.Add(new Solenoid("Y_valve", "line", "neutral", CoilResistance, ReleasedInductance, PulledInInductance)
        {
            Stroke = Stroke,
            Mass = Mass,
            SpringForce = SpringForce,
            SpringGain = SpringGain,
            PressureForce = PressureForce,
            RingShare = RingShare,
            RingTime = RingTime,
            HeatCapacity = HeatCapacity,
            ThermalResistance = ThermalResistance,
            Ambient = Ambient,
            StartTemperature = StartTemperature,
        });
        circuit.Add(new Resistor("R_core", "line", "neutral", CoreResistance));
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = [LoadPoints.Neutral("valve", "line", "Across the valve's winding: the line while it is on.")],
            Currents = [LoadPoints.Clamp("winding", "Y_valve", "Current through the winding: high while the plunger is out, less than half of that once it is in.")],
            States =
            [
                LoadPoints.State("position", "Y_valve", "position", "", "Position of the plunger: 0 out (valve shut), 1 pulled in (valve open)."),
                LoadPoints.State("force", "Y_valve", "force", "N", "Pull of the magnet."),
                LoadPoints.State("winding-temperature", "Y_valve", "temperature", "degC", "Temperature of the winding; class B enamel is rated for 130 degC."),
            ],
            LineFrequency = LineFrequency,
            SuggestedStop = (OffAt ?? OnAt) + 12 / LineFrequency,
            SettledFrom = OffAt is null ? OnAt + 6 / LineFrequency : null,
            StartsAtRest = true,
            LineSide = true,
        };
    }

    private void AddSupply(Circuit circuit)
    {
        const double edge = 1e-6;
        var (times, levels) = (new List<double> { 0 }, new List<double> { 0 });
        if (OnAt > 0)
        {
            (times, levels) = ([0, OnAt, OnAt + edge], [0, 0, 1]);
        }
        else
        {
            levels[0] = 1;
        }

        if (OffAt is { } off)
        {
            times.AddRange([off + edge, off + 2 * edge]);
            levels.AddRange([1, 0]);
        }

        SourceWaveform hand = times.Count > 1 ? new PiecewiseLinearWaveform([.. times], [.. levels]) : new DcWaveform(levels[0]);
        circuit.Add(new VoltageSource("V_hand", "hand", Circuit.Ground, hand));
        circuit.Add(new VoltageSwitch("S_supply", "outlet", "line", "hand", Circuit.Ground, new SwitchModel { OnResistance = 0.05, OffResistance = 1e8, Threshold = 0.5, Hysteresis = 0.1 }) { InitiallyOn = OnAt <= 0 });

        // Takes over the winding's current when the contact opens, as the snubber across a real one does.
        circuit.Add(new Capacitor("C_arc", "outlet", "line", 10e-9) { SeriesResistance = 100 });
    }
}
