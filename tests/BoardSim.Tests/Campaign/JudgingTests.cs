using System.Text.Json;
using BoardSim.Campaign.Drawing;
using BoardSim.Campaign.Judging;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Campaign;

/// <summary>The campaign's own judgement: what it must not let pass.</summary>
public class JudgingTests
{
    [Fact]
    public void TheSameSeedAndNumberDrawTheSameCaseInAnyOrder()
    {
        var first = JsonSerializer.Serialize(CaseDraw.Draw(7, 41));
        _ = CaseDraw.Draw(7, 40);
        Assert.Equal(first, JsonSerializer.Serialize(CaseDraw.Draw(7, 41)));
        Assert.NotEqual(first, JsonSerializer.Serialize(CaseDraw.Draw(8, 41)));
    }

    [Fact]
    public void AStoredCaseIsTheSameCase()
    {
        var drawn = CaseDraw.Draw(7, 3);
        var text = JsonSerializer.Serialize(drawn);
        Assert.Equal(text, JsonSerializer.Serialize(JsonSerializer.Deserialize<CampaignCase>(text)));
    }

    [Fact]
    public void FloatingNodesAndSourceLoopsAreFoundByHand()
    {
        // Drawn on paper: x and y hang on each other only; two sources lie across a and the ground.
        var graph = new GraphCheck(Unsound(), direct: true);
        Assert.Equal(["x", "y"], Assert.Single(graph.Islands).Order());
        Assert.Equal(1, graph.Loops);
    }

    [Fact]
    public void TheEnginesFindingsAgreeWithIt()
    {
        var findings = StructureCheck.Find(Unsound(), forDirectCurrent: true);
        Assert.Null(RefusalCheck.Problem(findings, new GraphCheck(Unsound(), direct: true)));
    }

    [Theory]
    [InlineData("Nodes x, a (parts R2) have no conducting path to the ground (node 0); add one.", "no such group")]
    [InlineData("V1, R1 form a loop of voltage sources at nodes a, 0, which contradict each other; take one out.", "form no loop")]
    [InlineData("Something else.", "no finding of structure")]
    public void AFindingWithTheWrongNamesIsSeen(string finding, string complaint) =>
        Assert.Contains(complaint, RefusalCheck.Problem([finding], new GraphCheck(Unsound(), direct: true)), StringComparison.Ordinal);

    [Fact]
    public void APartThatWasTakenOutIsARightReasonToRefuse()
    {
        var graph = new GraphCheck(Unsound(), direct: true);
        Assert.Null(RefusalCheck.Problem(["R1 refers to U7, which is not in the circuit; add it, or correct the name."], graph));
        Assert.NotNull(RefusalCheck.Problem(["R1 refers to R2, which is not in the circuit; add it, or correct the name."], graph));
    }

    [Fact]
    public void AMissingFindingIsSeen() =>
        Assert.Contains("float", RefusalCheck.Problem([], new GraphCheck(Unsound(), direct: true)), StringComparison.Ordinal);

    // Drawn on paper: the secondary of a transformer lies across a source; the primary, across nothing rigid, is in no loop.
    [Fact]
    public void AShortedWindingIsALoopAndTheOtherWindingIsNot()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "in", "0", 1));
        circuit.Add(new Resistor("R1", "in", "p", 1));
        circuit.Add(new SaturableTransformer("T1", [new("p", "0", 1, 1e-3), new("s", "0", 0.1, 1e-5)], 1));
        circuit.Add(new VoltageSource("V2", "s", "0", 0));
        var findings = StructureCheck.Find(circuit, forDirectCurrent: true);
        Assert.Single(findings);
        Assert.Null(RefusalCheck.Problem(findings, new GraphCheck(circuit, direct: true)));
        Assert.Contains(
            "form no loop",
            RefusalCheck.Problem(["V1, T1 form a loop of voltage sources and inductors at nodes in, p, whose direct current has no limit."], new GraphCheck(circuit, direct: true)),
            StringComparison.Ordinal);
    }

    // Drawn on paper: the element's heat reaches its own first terminal through R_joined, and nothing else than the ground without it.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void APartThatItsOwnHeatFeedsIsSeen(bool isJoined)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "in", "0", 1));
        circuit.Add(new HeatingElement("R_element", "in", "0", "heat", 100));
        circuit.Add(new Resistor("R_loss", "heat", "0", 1));
        circuit.Add(new Resistor("R_joined", "heat", isJoined ? "in" : "0", 1));
        var graph = new GraphCheck(circuit, direct: true);
        Assert.Equal(isJoined ? ["R_element"] : [], graph.FedByOwnHeat);
        var findings = StructureCheck.Find(circuit, forDirectCurrent: true);
        Assert.Equal(isJoined ? 1 : 0, findings.Count);
        Assert.Null(RefusalCheck.Problem(findings, graph));
    }

    private static Circuit Unsound()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", 1));
        circuit.Add(new VoltageSource("V2", "a", "0", 2));
        circuit.Add(new Resistor("R1", "a", "0", 1));
        circuit.Add(new Resistor("R2", "x", "y", 1));
        circuit.Add(new Capacitor("C1", "y", "a", 1e-9));
        return circuit;
    }
}
