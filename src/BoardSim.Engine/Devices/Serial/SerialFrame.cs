namespace BoardSim.Engine.Devices.Serial;

/// <summary>Parity bit of an asynchronous frame.</summary>
public enum SerialParity
{
    /// <summary>No parity bit.</summary>
    None,

    /// <summary>The number of ones, parity bit included, is even.</summary>
    Even,

    /// <summary>The number of ones, parity bit included, is odd.</summary>
    Odd,
}

/// <summary>
/// Start-stop frame of eight data bits (ISO 1177: character structure for start/stop transmission; parity as in ISO 1155; both from memory): a start bit, which
/// is low, the data bits from the least significant on, a parity bit where there is one, and one or two stop bits, which are high. The idle line is high.
/// </summary>
/// <param name="Parity">Parity bit.</param>
/// <param name="StopBits">Number of stop bits, 1 or 2.</param>
public sealed record SerialFrame(SerialParity Parity = SerialParity.None, int StopBits = 1)
{
    /// <summary>Number of data bits.</summary>
    public const int DataBits = 8;

    /// <summary>Place of the first stop bit, counted from 0 at the start bit.</summary>
    public int FirstStop => 1 + DataBits + (Parity == SerialParity.None ? 0 : 1);

    /// <summary>Length of the frame in bits.</summary>
    public int Bits => FirstStop + StopBits;

    /// <summary>What is wrong, one sentence; null when nothing is.</summary>
    internal string? Problem => StopBits is 1 or 2 ? null : $"{StopBits} stop bits; there are 1 or 2.";

    /// <summary>Level of the line at a bit of the frame.</summary>
    /// <param name="value">The byte that is sent.</param>
    /// <param name="bit">Place of the bit, from 0 at the start bit.</param>
    public bool IsHigh(byte value, int bit) =>
        bit > 0 && (bit > DataBits ? bit >= FirstStop || ParityBit(value) : ((value >> (bit - 1)) & 1) != 0);

    /// <summary>Parity bit of a byte.</summary>
    /// <param name="value">The byte.</param>
    public bool ParityBit(byte value) => int.IsOddInteger(int.PopCount(value)) ^ (Parity == SerialParity.Odd);
}
