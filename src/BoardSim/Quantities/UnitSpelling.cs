namespace BoardSim.Quantities;

/// <summary>One way to write a unit.</summary>
/// <param name="Text">The text, case-sensitive, in plain characters: <c>ohm</c> for the omega sign, <c>u</c> for micro, <c>deg</c> for the degree sign, <c>2</c> for a superscript two.</param>
/// <param name="PowerOfTen">Value of the unit is ten to this power of the SI value.</param>
/// <param name="Factor">A factor beside the power of ten (60 for a minute).</param>
/// <param name="Offset">Added after scaling (273.15 for degrees Celsius).</param>
/// <param name="Prefixes">Characters of the SI prefixes that may stand before it; empty for none.</param>
internal sealed record UnitSpelling(string Text, int PowerOfTen = 0, double Factor = 1, double Offset = 0, string Prefixes = "");
