using System.CommandLine;
using BoardSim.Quantities;

namespace BoardSim.Cli;

/// <summary><c>--time-limit</c>, a time with its unit as everywhere else.</summary>
internal static class DurationOption
{
    private const double Longest = 365 * 24 * 3600.0;

    /// <summary>Makes the option.</summary>
    /// <param name="description">What is limited, and what happens then.</param>
    public static Option<TimeSpan?> Create(string description) => new("--time-limit")
    {
        Description = description,
        HelpName = "time",
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            if (Quantity.TryParse(text, Unit.Second, out var seconds, out _) && seconds > 0 && seconds <= Longest)
            {
                return TimeSpan.FromSeconds(seconds);
            }

            result.AddError($"--time-limit '{text}': it must be a time with its unit, such as 10s, 500ms or 5min.");
            return null;
        },
    };
}
