namespace BoardSim.Blocks.AcLoads;

/// <summary>Usual values of a kind of motor, in ohms, ohms of reactance at 60 Hz, farads and SI units; invented, typical of the size.</summary>
internal sealed record MotorDefaults
{
    /// <summary>50 W fan, four poles, 120 V.</summary>
    public static readonly MotorDefaults Fan = new()
    {
        Run = (30, 32),
        Start = (40, 34),
        Ratio = 1.25,
        Cage = (42, 26),
        Magnetising = 340,
        Capacitance = 4e-6,
        Inertia = 0.4e-3,
        FanTorque = 0.18,
        ConstantTorque = 0.01,
        HeatCapacity = (60, 50),
        ThermalResistance = (6, 7),
        PullIn = 1,
    };

    /// <summary>180 W pump or compressor, four poles, 120 V, start winding of thin wire.</summary>
    public static readonly MotorDefaults SplitPhase = new()
    {
        Run = (2, 2.8),
        Start = (9, 2.6),
        Ratio = 0.8,
        Cage = (4, 2.2),
        Magnetising = 66,
        Capacitance = 180e-6,
        Inertia = 5e-3,
        FanTorque = 0.7,
        ConstantTorque = 0.1,
        HeatCapacity = (250, 60),
        ThermalResistance = (1.2, 4),
        PullIn = 11,
    };

    /// <summary>The same with a start capacitor, whose winding has more turns.</summary>
    public static readonly MotorDefaults CapacitorStart = SplitPhase with { Start = (7, 3.2), Ratio = 1.2, HeatCapacity = (250, 90) };

    /// <summary>Resistance and leakage reactance of the run winding.</summary>
    public required (double Resistance, double Reactance) Run { get; init; }

    /// <summary>Resistance and leakage reactance of the start winding.</summary>
    public required (double Resistance, double Reactance) Start { get; init; }

    /// <summary>Turns of the start winding over those of the run winding.</summary>
    public required double Ratio { get; init; }

    /// <summary>Resistance and leakage reactance of the cage.</summary>
    public required (double Resistance, double Reactance) Cage { get; init; }

    /// <summary>Magnetising reactance.</summary>
    public required double Magnetising { get; init; }

    /// <summary>Capacitance of the run or start capacitor.</summary>
    public required double Capacitance { get; init; }

    /// <summary>Moment of inertia of rotor and load.</summary>
    public required double Inertia { get; init; }

    /// <summary>Torque that a fan or pump takes at 1500 rpm.</summary>
    public required double FanTorque { get; init; }

    /// <summary>Torque that bearings and load take at any speed.</summary>
    public required double ConstantTorque { get; init; }

    /// <summary>Heat capacities of run and start winding.</summary>
    public required (double Run, double Start) HeatCapacity { get; init; }

    /// <summary>Thermal resistances of run and start winding.</summary>
    public required (double Run, double Start) ThermalResistance { get; init; }

    /// <summary>RMS current at which the start relay closes.</summary>
    public required double PullIn { get; init; }
}
