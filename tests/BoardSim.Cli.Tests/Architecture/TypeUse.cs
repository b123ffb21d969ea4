namespace BoardSim.Cli.Tests.Architecture;

/// <summary>One type that uses another, in a signature or in the body of a method.</summary>
/// <param name="From">Full name of the type that uses; nested types count as the type around them.</param>
/// <param name="Assembly">Assembly of the type that is used.</param>
/// <param name="To">Full name of the type that is used.</param>
internal readonly record struct TypeUse(string From, string Assembly, string To);
