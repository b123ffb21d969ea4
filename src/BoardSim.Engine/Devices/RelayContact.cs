namespace BoardSim.Engine.Devices;

/// <summary>Contact of a relay; terminals: first, second. It follows the <see cref="RelayCoil"/> of the name it is given, and breaks any current at once.</summary>
public sealed class RelayContact : CoilContact
{
    /// <summary>Creates a contact.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="coil">Name of the coil that moves it.</param>
    public RelayContact(string name, string first, string second, string coil)
        : base(name, first, second, coil)
    {
    }

    /// <summary>True while the contact is closed.</summary>
    public bool IsClosed => Touches;

    private protected override bool Conducts => Touches;
}
