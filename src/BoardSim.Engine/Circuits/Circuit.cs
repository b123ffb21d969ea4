namespace BoardSim.Engine.Circuits;

/// <summary>A circuit as a list of devices between named nodes. Names are case-insensitive. Not thread-safe.</summary>
public sealed class Circuit
{
    /// <summary>Name of the reference node.</summary>
    public const string Ground = "0";

    private readonly List<Device> devices = [];
    private readonly Dictionary<string, int> byName = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Title, one line.</summary>
    public string Title { get; set; } = "";

    /// <summary>Temperature of all parts without a thermal state, in kelvin; 300.15 K (27 degC) unless set, the customary value of SPICE.</summary>
    public double Temperature { get; set; } = 300.15;

    /// <summary>Node voltages in volts to start from (SPICE: .ic), by node name.</summary>
    public Dictionary<string, double> InitialVoltages { get; private init; } = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>The devices in the order they were added.</summary>
    public IReadOnlyList<Device> Devices => devices;

    /// <summary>The device of that name.</summary>
    /// <param name="name">Case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">There is none.</exception>
    public Device this[string name] => Find(name) ?? throw new KeyNotFoundException($"The circuit has no part named {name}.");

    /// <summary>Adds a device.</summary>
    /// <typeparam name="T">Type of the device.</typeparam>
    /// <param name="device">Must have a name that is not taken.</param>
    /// <returns>The same device.</returns>
    /// <exception cref="ArgumentException">The name is taken.</exception>
    public T Add<T>(T device)
        where T : Device
    {
        ArgumentNullException.ThrowIfNull(device);
        if (!byName.TryAdd(device.Name, devices.Count))
        {
            throw new ArgumentException($"The circuit has a part named {device.Name} already.", nameof(device));
        }

        devices.Add(device);
        return device;
    }

    /// <summary>The device of that name, or null.</summary>
    /// <param name="name">Case-insensitive.</param>
    public Device? Find(string name) => byName.TryGetValue(name, out var at) ? devices[at] : null;

    /// <summary>The device of that name and type.</summary>
    /// <typeparam name="T">Type that is expected.</typeparam>
    /// <param name="name">Case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">There is no such device.</exception>
    /// <exception cref="InvalidCastException">It is of another type.</exception>
    public T Get<T>(string name)
        where T : Device =>
        this[name] as T ?? throw new InvalidCastException($"{name} is a {this[name].GetType().Name}, not a {typeof(T).Name}.");

    /// <summary>Puts another device in the place of the one of the same name.</summary>
    /// <param name="device">The replacement.</param>
    public void Replace(Device device)
    {
        ArgumentNullException.ThrowIfNull(device);
        _ = this[device.Name];
        devices[byName[device.Name]] = device;
    }

    /// <summary>Takes a device out.</summary>
    /// <param name="name">Case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">There is none.</exception>
    public void Remove(string name)
    {
        _ = this[name];
        devices.RemoveAt(byName[name]);
        byName.Clear();
        for (var i = 0; i < devices.Count; i++)
        {
            byName[devices[i].Name] = i;
        }
    }

    /// <summary>A copy with copies of all devices, so that it can be changed and run apart from this one.</summary>
    public Circuit Clone()
    {
        var copy = new Circuit
        {
            Title = Title,
            Temperature = Temperature,
            InitialVoltages = new Dictionary<string, double>(InitialVoltages, StringComparer.OrdinalIgnoreCase),
        };
        foreach (var device in devices)
        {
            copy.Add(device.Clone());
        }

        return copy;
    }
}
