using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.SerialLinks;

public sealed partial class SerialLink
{
    private static List<TestPoint> Points() =>
    [
        Ground("line", "line", "The line at the controller: at the supply while idle, near ground for low bits."),
        AtPanel("line-at-panel", "line-at-panel", "The line at the panel, against the panel's own ground: what a panel sees that reads it."),
        Ground("panel-ground", "panel-ground", "Ground of the panel against that of the controller: the load's current times the resistance of the ground wire, some tens of millivolts."),
        Ground("supply", "supply", "Logic supply of the controller, which the pull-up leads to."),
        AtPanel("panel-supply", "panel-supply", "Logic supply of the panel against its own ground."),
        AtPanel("panel-rail", "panel-rail", "Rail as it arrives at the panel."),
    ];

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "ground-wire", Part = "R_ground", Description = "Current through the ground wire, from the panel to the controller: that of the loads." },
        new() { Name = "pull-up", Part = "R_pullup", Description = "Current through the pull-up: supply over resistance for low bits, next to nothing for high ones." },
        new() { Name = "sender", Part = "U1", Description = "Current that the sender's output takes from the line." },
    ];

    private static List<StatePoint> WhatWasSentAndRead() =>
    [
        State("U1", "frames-sent", "", "Number of frames that were sent to their end."),
        State("U1", "byte", "", "Byte that is sent, or was sent last.", "byte-sent"),
        State("U2", "last-byte", "", "Last byte that was taken over, with stop and parity bit in order."),
        State("U2", "frames", "", "Number of frames that were taken over, with stop and parity bit in order."),
        State("U2", "framing-errors", "", "Number of frames whose stop bit was low; 0 on a healthy link."),
        State("U2", "parity-errors", "", "Number of frames with a wrong parity bit; 0 on a healthy link."),
        State("U2", "misread-frames", "", "Number of frames that were read otherwise than sent, noticed or not; 0 on a healthy link."),
        State("U2", "unnoticed", "", "Number of those that neither stop nor parity bit gave away."),
        State("U2", "lost-frames", "", "Number of frames that were sent and not read as they were; 0 on a healthy link."),
        State("U2", "first-misread", "s", "Instant of the start edge of the first frame that was misread; 0 while there is none."),
        State("U2", "margin-low", "V", "Least noise margin of low bits so far, in their middle: V(IL) less the line's voltage; 0 before the first."),
        State("U2", "margin-high", "V", "Least noise margin of high bits so far, in their middle: the line's voltage less V(IH); 0 before the first."),
    ];

    private static StatePoint State(string part, string state, string unit, string description, string? name = null) =>
        new() { Name = name ?? state, Part = part, State = state, Unit = unit, Description = description };

    private static TestPoint Ground(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = Circuit.Ground,
        Reference = Reference.BoardGround,
        Description = description,
    };

    private static TestPoint AtPanel(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = "panel-ground",
        Reference = Reference.AcrossPart,
        Description = description,
    };
}
