using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the metrics.</summary>
internal static class MetricsReader
{
    public static IReadOnlyList<MetricSpec> Read(Section root, BlockInHand? block, RunSettings run, IReadOnlyList<ObservationSpec> observations, Outputs outputs)
    {
        var metrics = new List<MetricSpec>();
        foreach (var (name, node) in root.Named("metrics"))
        {
            if (Section.Open(node, ScenarioFormat.Metric, root.Findings) is not { } section)
            {
                outputs.AddMetric(name, null, root.Findings);
                continue;
            }

            var reader = new One(name, section, block, RecordedTime.Of(run, block), run.Kind, observations);
            metrics.Add(reader.Read());
            outputs.AddMetric(name, reader.Unit, root.Findings);
        }

        return metrics;
    }

    /// <summary>Reads one metric.</summary>
    private sealed class One(TextNode name, Section section, BlockInHand? block, RecordedTime? recorded, RunKind run, IReadOnlyList<ObservationSpec> observations)
    {
        private Metric? metric;
        private Unit? observed;

        /// <summary>Unit of the metric's value; null when it is not known.</summary>
        public Unit? Unit => metric is null ? null : metric.Unit ?? observed;

        public MetricSpec Read()
        {
            var of = Observation("of");
            observed = of is null ? null : ObservationsReader.UnitOf(of, block, run);
            if (section.TextNode("take") is { } take)
            {
                metric = Metrics.Find(take.Text);
                if (metric is null)
                {
                    section.Findings.AddUnknown(take, "metric", Metrics.All.Select(m => m.Id));
                }
                else if (metric.OverFrequency != (run == RunKind.FrequencyResponse))
                {
                    section.Note("take", metric.OverFrequency
                        ? $"{metric.Id} is taken of a frequency response (\"compute: frequency-response\")"
                        : $"{metric.Id} is taken over time, and a frequency response has none; there are {string.Join(", ", Metrics.All.Where(m => m.OverFrequency).Select(m => m.Id))}");
                }
                else if (metric.Of is { } wanted && observed is not null && observed != wanted)
                {
                    section.Findings.Add(section.TextNode("of")!, $"{metric.Id} is taken of a {wanted.Kind}, and {of!.Name} is a {observed.Kind}");
                }
            }

            var and = Observation("and");
            CheckSecond();
            if (run != RunKind.Transient && section.Has("over"))
            {
                section.Note("over", $"{(run == RunKind.OperatingPoint ? "an operating point" : "a frequency response")} has no time axis, so nothing can be taken over a stretch of time");
            }

            return new MetricSpec
            {
                Name = name.Text,
                Label = section.Text("label") ?? metric?.Title ?? name.Text,
                Take = metric?.Id ?? "",
                Of = of?.Name ?? "",
                And = and?.Name,
                Window = WindowReader.Read(section, "over", recorded),
                Parameters = Parameters(),
            };
        }

        private ObservationSpec? Observation(string key)
        {
            if (section.TextNode(key) is not { } node)
            {
                return null;
            }

            var found = observations.FirstOrDefault(o => o.Name == node.Text);
            if (found is null)
            {
                section.Findings.AddUnknown(node, "observation of this scenario", observations.Select(o => o.Name));
            }

            return found;
        }

        private void CheckSecond()
        {
            if (metric is null)
            {
                return;
            }

            if (metric.NeedsSecond && !section.Has("and"))
            {
                section.Findings.Add(name, $"{metric.Id} needs a second observation under \"and\": {metric.SecondRole}");
            }
            else if (metric.SecondRole is null && section.Has("and"))
            {
                section.Note("and", $"{metric.Id} is taken of one observation alone");
            }
        }

        private Dictionary<string, double> Parameters()
        {
            var given = new Dictionary<string, double>(StringComparer.Ordinal);
            if (metric is null)
            {
                return given;
            }

            var map = section.Node("with") is { } node ? Section.AsMap(node, $"parameters of {metric.Id}", section.Findings) : null;
            foreach (var (key, value) in map?.Entries ?? [])
            {
                if (metric.Parameters.FirstOrDefault(p => p.Key == key.Text) is not { } parameter)
                {
                    section.Findings.AddUnknown(key, $"parameter of {metric.Id}", metric.Parameters.Select(p => p.Key));
                }
                else if (value is not TextNode text)
                {
                    section.Findings.Add(value.Place, "", $"{key.Text} takes a single value, and this is {value.Kind}");
                }
                else if (Parameter(parameter, text) is { } read)
                {
                    given[parameter.Key] = read;
                }
            }

            foreach (var missing in metric.Parameters.Where(p => map?.Find(p.Key) is null && IsMissing(p)))
            {
                section.Findings.Add(name, $"{metric.Id} needs the parameter \"{missing.Key}\" under \"with\": {missing.Description.TrimEnd('.')}");
            }

            return given;
        }

        private double? Parameter(MetricParameter parameter, TextNode text)
        {
            if ((parameter.Unit ?? observed) is not { } unit || QuantityText.Read(text, unit, section.Findings) is not { } value)
            {
                return null;
            }

            if (parameter.Problem(value) is { } problem)
            {
                section.Findings.Add(text, problem.TrimEnd('.'));
                return null;
            }

            return value;
        }

        private bool IsMissing(MetricParameter parameter) => parameter.Source switch
        {
            ParameterSource.Required => true,
            ParameterSource.LineFrequency => block?.Board is { LineFrequency: null },
            ParameterSource.SwitchingFrequency => block?.Board is { SwitchingFrequency: null },
            _ => false,
        };
    }
}
