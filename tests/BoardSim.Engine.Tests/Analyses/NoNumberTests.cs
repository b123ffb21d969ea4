using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>A part whose law is no number somewhere is what the failure names: the inverse spreads it over all unknowns, of which any would be as bad.</summary>
public sealed class NoNumberTests
{
    [Theory]
    [InlineData("a", "node a ")]
    [InlineData("b", "node b ")]
    [InlineData("c", "node c ")]
    public void Failure_names_the_node_whose_equation_is_no_number(string node, string named)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 5));
        circuit.Add(new Resistor("R0", "source", "a", 1e3));
        circuit.Add(new Resistor("R1", "a", "b", 1e3));
        circuit.Add(new Resistor("R2", "b", "c", 1e3));
        circuit.Add(new Resistor("R3", "c", "0", 1e3));
        circuit.Add(new Conductor("X1", node, "0", v => (Math.Sqrt(-1 - v * v), 1e-3)));

        var failure = Assert.Throws<SolverException>(() => Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 1e-3, UseInitialConditions = true }, []));

        Assert.Contains($"the worst unknown is {named}", failure.Message, StringComparison.Ordinal);
    }
}
