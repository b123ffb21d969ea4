namespace BoardSim.Scenarios;

/// <summary>One value of a block, as a scenario sets it.</summary>
/// <param name="Key">The value's key, such as <c>bulk.esr</c>.</param>
/// <param name="Value">A <see cref="double"/> in the value's unit, or the word of a choice.</param>
/// <param name="Text">What the file says, such as <c>0.8 ohm</c>.</param>
public sealed record ValueSetting(string Key, object Value, string Text);
