using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Writing;

/// <summary>Writes the parts of a circuit, one or more lines each, with a comment wherever the text departs from the circuit.</summary>
internal sealed class PartWriter
{
    private readonly Circuit circuit;
    private readonly Names names;
    private readonly Models models;
    private readonly List<string> lines = [];
    private readonly List<string> departures = [];
    private readonly Dictionary<string, string> written = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, string> sensors = new(StringComparer.OrdinalIgnoreCase);

    public PartWriter(Circuit circuit, Names names, Models models)
    {
        (this.circuit, this.names, this.models) = (circuit, names, models);
        foreach (var device in circuit.Devices)
        {
            if (Letter(device) is { } letter)
            {
                written[device.Name] = names.Part(letter, device.Name);
            }
        }

        // SPICE reads currents of voltage sources only, so other parts that control something get one of 0 V in series.
        foreach (var control in circuit.Devices.SelectMany(Controls).Distinct(StringComparer.OrdinalIgnoreCase))
        {
            if (circuit.Find(control) is { } device and not VoltageSource && written.ContainsKey(control))
            {
                sensors[control] = names.Part('V', $"{device.Name}_sense");
            }
        }
    }

    /// <summary>Lines so far, comments included.</summary>
    public IReadOnlyList<string> Lines => lines;

    /// <summary>What the text does not say as the circuit does, one sentence each.</summary>
    public IReadOnlyList<string> Departures => departures;

    /// <summary>How a part is written, or null when it is left out.</summary>
    public string? Written(string part) => written.GetValueOrDefault(part);

    public void Write(Device device)
    {
        if (!written.TryGetValue(device.Name, out var name))
        {
            Depart(device, $"a {device.GetType().Name} between {string.Join(", ", device.Nodes.Select(names.Node))} cannot be expressed and is LEFT OUT");
            return;
        }

        if (Controls(device).FirstOrDefault(c => !written.ContainsKey(c)) is { } missing)
        {
            Depart(device, $"it is controlled by {missing}, which cannot be expressed, and is LEFT OUT");
            return;
        }

        if (!name.Equals(device.Name, StringComparison.Ordinal))
        {
            lines.Add($"* {device.Name} is written {name}");
        }

        var nodes = device.Nodes.Select(names.Node).ToArray();
        if (sensors.TryGetValue(device.Name, out var sensor))
        {
            var inner = names.NewNode($"{device.Name}_sensed");
            lines.Add($"* {sensor} carries the current of {device.Name}, for parts that it controls");
            Line(sensor, nodes[0], inner, "DC 0");
            nodes[0] = inner;
        }

        Write(device, name, nodes);
    }

    private static char? Letter(Device device) => device switch
    {
        Resistor or IsothermalThermistor or Thermistor or ConstantPowerLoad => 'R',
        Capacitor => 'C',
        Inductor or RelayCoil => 'L',
        Coupling => 'K',
        VoltageSource => 'V',
        CurrentSource => 'I',
        VoltageControlledVoltageSource => 'E',
        CurrentControlledCurrentSource => 'F',
        VoltageControlledCurrentSource => 'G',
        CurrentControlledVoltageSource => 'H',
        Diode or Varistor => 'D',
        BipolarTransistor => 'Q',
        Mosfet => 'M',
        VoltageSwitch => 'S',
        CurrentSwitch or RelayContact => 'W',
        _ => null,
    };

    private static IEnumerable<string> Controls(Device device) => device switch
    {
        CurrentControlledCurrentSource f => [f.ControlDevice],
        CurrentControlledVoltageSource h => [h.ControlDevice],
        CurrentSwitch w => [w.ControlDevice],
        RelayContact contact => [contact.Coil],
        _ => [],
    };

    private void Write(Device device, string name, string[] n)
    {
        switch (device)
        {
            case Resistor r:
                Write(r, name, n);
                break;
            case Capacitor c:
                Write(c, name, n);
                break;
            case Inductor l:
                Write(name, n, l.Inductance, l.SeriesResistance, l.InitialCurrent);
                break;
            case Coupling k:
                Line(name, written[k.First], written[k.Second], N(k.Coefficient));
                break;
            case VoltageSource v:
                Line(name, n[0], n[1], SourceText.Write(v.Waveform, v.DcValue, v.SmallSignal, Note(v)));
                break;
            case CurrentSource i:
                Line(name, n[0], n[1], SourceText.Write(i.Waveform, i.DcValue, i.SmallSignal, Note(i)));
                break;
            case VoltageControlledVoltageSource e:
                Line(name, n[0], n[1], n[2], n[3], N(e.Gain));
                break;
            case VoltageControlledCurrentSource g:
                Line(name, n[0], n[1], n[2], n[3], N(g.Transconductance));
                break;
            case CurrentControlledCurrentSource f:
                Line(name, n[0], n[1], Control(f.ControlDevice), N(f.Gain));
                break;
            case CurrentControlledVoltageSource h:
                Line(name, n[0], n[1], Control(h.ControlDevice), N(h.Transresistance));
                break;
            case VoltageSwitch s:
                Line(name, n[0], n[1], n[2], n[3], models.Name("SW", s.Model, ModelValues.Of(s.Model, 'V')), s.InitiallyOn ? "ON" : "");
                break;
            case CurrentSwitch w:
                Line(name, n[0], n[1], Control(w.ControlDevice), models.Name("CSW", w.Model, ModelValues.Of(w.Model, 'I')), w.InitiallyOn ? "ON" : "");
                break;
            case Diode d:
                Line(name, n[0], n[1], models.Name("D", d.Model, ModelValues.Of(d.Model)), Unless(d.Area, 1));
                break;
            case BipolarTransistor q:
                Line(name, n[0], n[1], n[2], models.Name(q.Model.IsPnp ? "PNP" : "NPN", q.Model, ModelValues.Of(q.Model)), Unless(q.Area, 1));
                break;
            case Mosfet m:
                Write(m, name, n);
                break;
            default:
                WriteNearest(device, name, n);
                break;
        }
    }

    private void Write(Resistor r, string name, string[] n)
    {
        if (r.Tc1 == 0 && r.Tc2 == 0)
        {
            Line(name, n[0], n[1], N(r.Resistance));
            return;
        }

        var law = (r.Tc1, r.Tc2, r.NominalTemperature);
        Line(name, n[0], n[1], N(r.Resistance), models.Name("R", law, ("TC1", r.Tc1, 0), ("TC2", r.Tc2, 0), ModelValues.Nominal(r.NominalTemperature)));
    }

    private void Write(Capacitor c, string name, string[] n)
    {
        var inner = n[0];
        if (c.SeriesResistance > 0)
        {
            inner = names.NewNode($"{c.Name}_inner");
            Line(names.Part('R', $"R{c.Name}_esr"), n[0], inner, N(c.SeriesResistance));
        }

        Line(name, inner, n[1], N(c.Capacitance), c.InitialVoltage is { } volts ? $"IC={N(volts)}" : "");
        if (double.IsFinite(c.LeakageResistance))
        {
            Line(names.Part('R', $"R{c.Name}_leak"), inner, n[1], N(c.LeakageResistance));
        }
    }

    private void Write(string name, string[] n, double henries, double ohms, double? amperes)
    {
        var inner = n[1];
        if (ohms > 0)
        {
            inner = names.NewNode($"{name}_inner");
            Line(names.Part('R', $"R{name}_winding"), inner, n[1], N(ohms));
        }

        Line(name, n[0], inner, N(henries), amperes is { } i ? $"IC={N(i)}" : "");
    }

    private void Write(Mosfet m, string name, string[] n) => Line(
        name,
        n[0],
        n[1],
        n[2],
        n[3],
        models.Name(m.Model.IsPChannel ? "PMOS" : "NMOS", m.Model, ModelValues.Of(m.Model)),
        $"L={N(m.Length)}",
        $"W={N(m.Width)}",
        Keyword("AD", m.DrainArea, 0),
        Keyword("AS", m.SourceArea, 0),
        Keyword("PD", m.DrainPerimeter, 0),
        Keyword("PS", m.SourcePerimeter, 0),
        Keyword("NRD", m.DrainSquares, 1),
        Keyword("NRS", m.SourceSquares, 1));

    /// <summary>Parts that Berkeley's netlists have no word for, as the nearest that they have one for.</summary>
    private void WriteNearest(Device device, string name, string[] n)
    {
        switch (device)
        {
            case IsothermalThermistor t:
                var held = t.Temperature ?? circuit.Temperature;
                Depart(t, $"a thermistor; its resistance at {held:G6} K stands for it");
                Line(name, n[0], n[1], N(t.Drift * t.Curve.Resistance(held)));
                break;
            case Thermistor t:
                var kelvin = t.InitialTemperature ?? t.Ambient ?? circuit.Temperature;
                Depart(t, $"a thermistor that heats itself; its resistance at {kelvin:G6} K stands for it and does not change");
                Line(name, n[0], n[1], N(t.Curve.Resistance(kelvin)));
                break;
            case ConstantPowerLoad load:
                Depart(load, $"a load of {load.Power:G6} W at any voltage; the resistance that draws this at {load.MinimumVoltage:G6} V, the least it runs at, stands for it. Where SPICE3's B is known, take B{name} {n[0]} {n[1]} I={N(load.Power)}/V({n[0]},{n[1]}) instead");
                Line(name, n[0], n[1], N(load.Power > 0 ? load.MinimumVoltage * load.MinimumVoltage / load.Power : 1e12));
                break;
            case Varistor v:
                Write(v, name, n);
                break;
            case RelayCoil coil:
                var ohms = coil.ResistanceAt20 * (1 + RelayCoil.CopperCoefficient * ((coil.Temperature ?? circuit.Temperature) - 293.15));
                Depart(coil, "a relay's coil; resistance at its temperature and inductance with the armature released stand for it");
                Write(name, n, coil.ReleasedInductance, ohms, coil.InitialCurrent);
                break;
            case RelayContact contact:
                Write(contact, name, n);
                break;
            default:
                throw new InvalidOperationException($"{device.GetType().Name} has a letter but no way to be written.");
        }
    }

    /// <summary>Two opposed diodes whose exponential has the value and the slope of the power law at the reference point.</summary>
    private void Write(Varistor v, string name, string[] n)
    {
        Depart(v, $"a varistor; two diodes with the value and slope of its law at {v.ReferenceVoltage:G6} V stand for it");
        var model = new DiodeModel
        {
            SaturationCurrent = v.ReferenceCurrent * Math.Exp(-v.Exponent),
            EmissionCoefficient = v.ReferenceVoltage / (v.Exponent * Junction.VoltsPerKelvin * circuit.Temperature),
            SaturationExponent = 0,
            NominalTemperature = circuit.Temperature,
        };
        var letters = models.Name("D", model, ModelValues.Of(model));
        Line(name, n[0], n[1], letters);
        Line(names.Part('D', $"{name}_back"), n[1], n[0], letters);
        if (v.Capacitance > 0)
        {
            Line(names.Part('C', $"C{name}_disc"), n[0], n[1], N(v.Capacitance));
        }
    }

    private void Write(RelayContact contact, string name, string[] n)
    {
        if (circuit.Find(contact.Coil) is not RelayCoil coil)
        {
            Depart(contact, $"{contact.Coil} is no coil; the contact is LEFT OUT");
            return;
        }

        Depart(contact, $"a contact of {coil.Name}; a switch between pull-in and drop-out current stands for it, without travel, bounce and reverse current");
        var model = new SwitchModel
        {
            OnResistance = contact.IsNormallyClosed ? contact.OffResistance : contact.OnResistance,
            OffResistance = contact.IsNormallyClosed ? contact.OnResistance : contact.OffResistance,
            Threshold = 0.5 * (coil.PullInCurrent + coil.DropOutCurrent),
            Hysteresis = 0.5 * (coil.PullInCurrent - coil.DropOutCurrent),
        };
        Line(name, n[0], n[1], Control(coil.Name), models.Name("CSW", model, ModelValues.Of(model, 'I')));
    }

    private string Control(string device) => sensors.TryGetValue(device, out var sensor) ? sensor : written[device];

    private void Line(params string[] words) => lines.Add(string.Join(' ', words.Where(w => w.Length > 0)));

    private Action<string> Note(Device device) => what => Depart(device, what);

    private void Depart(Device device, string what)
    {
        var sentence = $"{device.Name}: {what}.";
        departures.Add(sentence);
        lines.Add($"* {sentence}");
    }

    private static string Unless(double value, double usual) => value == usual ? "" : N(value);

    private static string Keyword(string word, double value, double usual) => value == usual ? "" : $"{word}={N(value)}";

    private static string N(double value) => SpiceNumber.Format(value);
}
