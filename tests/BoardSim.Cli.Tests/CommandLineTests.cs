namespace BoardSim.Cli.Tests;

/// <summary>Exit codes are those of the design (0 done, 2 bad input); results go to stdout, messages to stderr.</summary>
public class CommandLineTests
{
    [Fact]
    public void An_unknown_command_is_bad_input_named_on_stderr()
    {
        var run = Shell.Run("solv");
        Assert.Equal(2, run.Code);
        Assert.Contains("solv", run.Error);
        Assert.Empty(run.Output);
    }

    [Fact]
    public void Help_is_a_result()
    {
        var run = Shell.Run("--help");
        Assert.Equal(0, run.Code);
        Assert.Contains("appliance control boards", run.Output);
        Assert.Empty(run.Error);
    }
}
