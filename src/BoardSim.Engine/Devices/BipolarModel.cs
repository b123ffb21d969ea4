namespace BoardSim.Engine.Devices;

/// <summary>Parameters of a bipolar transistor, shared by all transistors of one model. Letters as in Berkeley SPICE's models NPN and PNP.</summary>
public sealed record BipolarModel
{
    /// <summary>True for a PNP, false for an NPN transistor.</summary>
    public bool IsPnp { get; init; }

    /// <summary>Transport saturation current IS in amperes, positive.</summary>
    public double SaturationCurrent { get; init; } = 1e-16;

    /// <summary>Ideal maximum forward current gain BF, positive.</summary>
    public double ForwardBeta { get; init; } = 100;

    /// <summary>Forward emission coefficient NF, positive.</summary>
    public double ForwardEmission { get; init; } = 1;

    /// <summary>Forward Early voltage VAF in volts, positive; infinite for none.</summary>
    public double ForwardEarlyVoltage { get; init; } = double.PositiveInfinity;

    /// <summary>Forward knee current IKF in amperes, where high injection sets in, positive; infinite for none.</summary>
    public double ForwardKneeCurrent { get; init; } = double.PositiveInfinity;

    /// <summary>Base-emitter leakage saturation current ISE in amperes, zero or more.</summary>
    public double BaseEmitterLeakage { get; init; }

    /// <summary>Base-emitter leakage emission coefficient NE, positive.</summary>
    public double BaseEmitterLeakageEmission { get; init; } = 1.5;

    /// <summary>Ideal maximum reverse current gain BR, positive.</summary>
    public double ReverseBeta { get; init; } = 1;

    /// <summary>Reverse emission coefficient NR, positive.</summary>
    public double ReverseEmission { get; init; } = 1;

    /// <summary>Reverse Early voltage VAR in volts, positive; infinite for none.</summary>
    public double ReverseEarlyVoltage { get; init; } = double.PositiveInfinity;

    /// <summary>Reverse knee current IKR in amperes, positive; infinite for none.</summary>
    public double ReverseKneeCurrent { get; init; } = double.PositiveInfinity;

    /// <summary>Base-collector leakage saturation current ISC in amperes, zero or more.</summary>
    public double BaseCollectorLeakage { get; init; }

    /// <summary>Base-collector leakage emission coefficient NC, positive.</summary>
    public double BaseCollectorLeakageEmission { get; init; } = 2;

    /// <summary>Base resistance RB in ohms, zero or more; it does not fall with the current.</summary>
    public double BaseResistance { get; init; }

    /// <summary>Emitter resistance RE in ohms, zero or more.</summary>
    public double EmitterResistance { get; init; }

    /// <summary>Collector resistance RC in ohms, zero or more.</summary>
    public double CollectorResistance { get; init; }

    /// <summary>Zero-bias base-emitter depletion capacitance CJE in farads, zero or more.</summary>
    public double BaseEmitterCapacitance { get; init; }

    /// <summary>Base-emitter potential VJE in volts, positive.</summary>
    public double BaseEmitterPotential { get; init; } = 0.75;

    /// <summary>Base-emitter grading coefficient MJE, 0 to below 1.</summary>
    public double BaseEmitterGrading { get; init; } = 0.33;

    /// <summary>Zero-bias base-collector depletion capacitance CJC in farads, zero or more.</summary>
    public double BaseCollectorCapacitance { get; init; }

    /// <summary>Base-collector potential VJC in volts, positive.</summary>
    public double BaseCollectorPotential { get; init; } = 0.75;

    /// <summary>Base-collector grading coefficient MJC, 0 to below 1.</summary>
    public double BaseCollectorGrading { get; init; } = 0.33;

    /// <summary>Ideal forward transit time TF in seconds, zero or more.</summary>
    public double ForwardTransitTime { get; init; }

    /// <summary>Ideal reverse transit time TR in seconds, zero or more; it makes the storage time after saturation.</summary>
    public double ReverseTransitTime { get; init; }

    /// <summary>Coefficient FC of the forward-bias continuation of the capacitances, 0 to below 1.</summary>
    public double ForwardCoefficient { get; init; } = 0.5;

    /// <summary>Energy gap EG in electronvolts.</summary>
    public double EnergyGap { get; init; } = 1.11;

    /// <summary>Exponent XTI of the saturation current's temperature dependence.</summary>
    public double SaturationExponent { get; init; } = 3;

    /// <summary>Exponent XTB of the current gains' temperature dependence.</summary>
    public double BetaExponent { get; init; }

    /// <summary>Temperature TNOM in kelvin at which the parameters hold.</summary>
    public double NominalTemperature { get; init; } = 300.15;

    internal IEnumerable<string> Problems(string name)
    {
        (string What, double Value)[] positive =
        [
            ("saturation current", SaturationCurrent), ("forward beta", ForwardBeta), ("reverse beta", ReverseBeta),
            ("forward emission coefficient", ForwardEmission), ("reverse emission coefficient", ReverseEmission),
            ("forward Early voltage", ForwardEarlyVoltage), ("reverse Early voltage", ReverseEarlyVoltage),
            ("forward knee current", ForwardKneeCurrent), ("reverse knee current", ReverseKneeCurrent),
            ("base-emitter leakage emission coefficient", BaseEmitterLeakageEmission),
            ("base-collector leakage emission coefficient", BaseCollectorLeakageEmission),
            ("base-emitter potential", BaseEmitterPotential), ("base-collector potential", BaseCollectorPotential),
            ("nominal temperature", NominalTemperature),
        ];
        (string What, double Value)[] notNegative =
        [
            ("base-emitter leakage", BaseEmitterLeakage), ("base-collector leakage", BaseCollectorLeakage),
            ("base resistance", BaseResistance), ("emitter resistance", EmitterResistance), ("collector resistance", CollectorResistance),
            ("base-emitter capacitance", BaseEmitterCapacitance), ("base-collector capacitance", BaseCollectorCapacitance),
            ("forward transit time", ForwardTransitTime), ("reverse transit time", ReverseTransitTime),
        ];
        (string What, double Value)[] fractions =
        [
            ("base-emitter grading", BaseEmitterGrading), ("base-collector grading", BaseCollectorGrading),
            ("forward-bias coefficient", ForwardCoefficient),
        ];
        return Ranges.Positive(name, positive).Concat(Ranges.NotNegative(name, notNegative)).Concat(Ranges.Fractions(name, fractions));
    }
}
