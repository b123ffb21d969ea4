namespace BoardSim.Engine.Devices.Selectors;

/// <summary>Which contacts of a coded switch are closed at which position.</summary>
public enum SwitchCode
{
    /// <summary>The position as a binary number: up to four contacts change from one position to the next.</summary>
    Binary,

    /// <summary>Reflected binary code (F. Gray, US patent 2 632 058, 1953): one contact changes from one position to the next.</summary>
    Gray,
}

/// <summary>Codes of positions 0 to 15 and back.</summary>
public static class SwitchCodes
{
    /// <summary>Number of positions.</summary>
    public const int Positions = 16;

    /// <summary>Closed contacts at a position, contact 0 at the lowest bit.</summary>
    /// <param name="code">The code.</param>
    /// <param name="position">Position, 0 to 15.</param>
    public static int Contacts(this SwitchCode code, int position) => code == SwitchCode.Gray ? position ^ (position >> 1) : position;

    /// <summary>Position at which these contacts are closed.</summary>
    /// <param name="code">The code.</param>
    /// <param name="contacts">Closed contacts, contact 0 at the lowest bit.</param>
    public static int Position(this SwitchCode code, int contacts)
    {
        if (code == SwitchCode.Gray)
        {
            // Each bit is the parity of all bits from its own place up.
            contacts ^= contacts >> 2;
            contacts ^= contacts >> 1;
        }

        return contacts;
    }
}
