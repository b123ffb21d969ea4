using BoardSim.Boards;
using BoardSim.Measurement;

namespace BoardSim.Blocks.AcLoads;

public sealed partial class AcMotor
{
    private static IReadOnlyList<CurrentPoint> Clamps { get; } =
    [
        LoadPoints.Clamp("line", "J_protector", "Current of the motor as a whole."),
        LoadPoints.Clamp("run", "M1", "Current of the run winding."),
        LoadPoints.Clamp("start", "R_lead", "Current of the start winding."),
    ];

    private List<TestPoint> Points()
    {
        List<TestPoint> points =
        [
            LoadPoints.Neutral("line", "line", "Line against neutral at the motor's connector."),
            LoadPoints.Neutral("run-winding", "run", "Across the run winding."),
            LoadPoints.Neutral("start-winding", "start", "Across the start winding: above the line's voltage where a capacitor resonates with it."),
        ];
        if (HasCapacitor)
        {
            points.Add(LoadPoints.Across("capacitor", HasStartRelay ? "capacitor" : "motor", "lead", "Across the capacitor: well above the line's voltage at speed for a run capacitor."));
        }

        return points;
    }

    private List<StatePoint> MotorStates()
    {
        List<StatePoint> states =
        [
            LoadPoints.State("speed", "M1", "speed", "rpm", "Speed, negative when backwards."),
            LoadPoints.State("direction", "M1", "direction", "", "1 forwards, -1 backwards, 0 below 20 rpm."),
            LoadPoints.State("torque", "M1", "torque", "Nm", "Torque in the air gap; it pulsates at twice the line frequency."),
            LoadPoints.State("run-temperature", "M1", "run-temperature", "degC", "Temperature of the run winding; class B enamel is rated for 130 degC."),
            LoadPoints.State("start-temperature", "M1", "start-temperature", "degC", "Temperature of the start winding; one that is meant for a second burns within a minute."),
        ];
        if (HasStartRelay)
        {
            states.Add(LoadPoints.State("start-relay-closed", "K_start", "closed", "", "1 while the start relay has the start winding on."));
        }

        if (Protector == MotorProtector.Fitted)
        {
            states.Add(LoadPoints.State("protector-temperature", "J_protector", "temperature", "degC", "Temperature of the protector's disc."));
            states.Add(LoadPoints.State("protector-open", "J_protector", "open", "", "1 while the protector has the motor off."));
            states.Add(LoadPoints.State("protector-trips", "J_protector", "openings", "", "How often the protector has opened since power came on."));
        }

        return states;
    }
}
