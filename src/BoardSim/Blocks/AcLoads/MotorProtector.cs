namespace BoardSim.Blocks.AcLoads;

/// <summary>Whether a motor has a thermal protector.</summary>
public enum MotorProtector
{
    /// <summary>None: a small motor whose windings stand its locked-rotor current for a while, or a cheap one.</summary>
    None,

    /// <summary>A bimetal disc in series with the motor.</summary>
    Fitted,
}
