namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Reads the control cards: analyses, output, initial voltages, options.</summary>
internal sealed class ControlReader(Findings findings)
{
    /// <summary>More points than this are a slip in a unit.</summary>
    private const double MostPoints = 1e6;

    /// <summary>More intervals of a transient than this are a slip in a unit; they are no points, for the solver finds its own.</summary>
    private const double MostIntervals = 1e9;

    private static readonly string[] Known = [".op", ".dc", ".ac", ".tran", ".ic", ".print", ".options", ".model", ".subckt", ".ends", ".end"];

    private static readonly Dictionary<string, string> Unsupported = new(StringComparer.OrdinalIgnoreCase)
    {
        [".NODESET"] = "is not supported: the operating point is found without hints; use .ic to start from chosen voltages",
        [".TEMP"] = "is a card of older versions; write .options temp=... (one temperature in degC)",
        [".PLOT"] = "draws with letters and is not supported; use .print",
        [".INCLUDE"] = "is not supported; paste the other file's lines here",
        [".LIB"] = "is no card of Berkeley's; paste the models here",
        [".PARAM"] = "is no card of Berkeley's; write the numbers where they are used",
        [".FOUR"] = "is not supported",
        [".NOISE"] = "is not supported",
        [".DISTO"] = "is not supported",
        [".PZ"] = "is not supported",
        [".SENS"] = "is not supported",
        [".TF"] = "is not supported",
        [".SAVE"] = "is not supported; use .print to choose what is written",
        [".WIDTH"] = "is not supported",
    };

    private readonly List<AnalysisCard> analyses = [];
    private readonly List<(Token At, DcSweepAxis Axis)> axes = [];
    private readonly List<PrintRequest> prints = [];
    private readonly List<(Token Node, double Volts)> initial = [];
    private Token? firstTransient;

    public Options Options { get; } = new();

    public IReadOnlyList<AnalysisCard> Analyses => analyses;

    /// <summary>Swept sources with the place of their names.</summary>
    public IReadOnlyList<(Token At, DcSweepAxis Axis)> Axes => axes;

    public IReadOnlyList<PrintRequest> Prints => prints;

    public IReadOnlyList<(Token Node, double Volts)> InitialVoltages => initial;

    /// <summary>The transient analysis whose step and stop are defaults of sources; null when there is none.</summary>
    public TransientCard? Transient => analyses.OfType<TransientCard>().FirstOrDefault();

    public void Read(IEnumerable<Card> cards)
    {
        foreach (var card in cards)
        {
            try
            {
                Read(card.Rewind());
            }
            catch (CardException fault)
            {
                fault.Report(findings);
            }
        }
    }

    private void Read(Card card)
    {
        switch (card.Head.Text.ToUpperInvariant())
        {
            case ".OP":
                card.End(".op");
                analyses.Add(new OperatingPointCard());
                break;
            case ".DC":
                Dc(card);
                break;
            case ".AC":
                Ac(card);
                break;
            case ".TRAN":
                Tran(card);
                break;
            case ".IC":
                InitialCondition(card);
                break;
            case ".PRINT":
                prints.Add(PrintRequest.Read(card));
                break;
            case ".OPTIONS" or ".OPTION" or ".OPT":
                Options.Read(card, findings);
                break;
            default:
                var word = card.Head.Text;
                throw Card.Fault(card.Head, Unsupported.TryGetValue(word, out var why)
                    ? $"The card {word} {why}."
                    : $"There is no card {word}{Nearest.Hint(word, Known)}; known are {string.Join(" ", Known)}.");
        }
    }

    private void Dc(Card card)
    {
        const string Form = ".dc source start stop step [source2 start2 stop2 step2]";
        var inner = Axis(card);
        var outer = card.AtEnd ? null : Axis(card);
        card.End(Form);
        if (outer is not null && outer.Source.Equals(inner.Source, StringComparison.OrdinalIgnoreCase))
        {
            throw Card.Fault(axes[^1].At, $"{outer.Source} is swept twice; the two sources of a .dc card must differ.");
        }

        var points = inner.Count * (outer?.Count ?? 1);
        if (points > MostPoints)
        {
            throw Card.Fault(card.Head, $"The sweep has {points:G3} points; more than {MostPoints:G3} are a slip.");
        }

        analyses.Add(new DcSweepCard(inner, outer));
    }

    private DcSweepAxis Axis(Card card)
    {
        var source = card.Next("the name of a source");
        var start = card.Number("the first value of the sweep");
        var stop = card.Number("the last value of the sweep");
        var at = card.Next("the step of the sweep");
        var step = Card.Number(at, "the step of the sweep");
        if (step == 0 || (stop != start && Math.Sign(step) != Math.Sign(stop - start)))
        {
            throw Card.Fault(at, FormattableString.Invariant($"A step of {step} does not lead from {start} to {stop}."));
        }

        if ((stop - start) / step > MostPoints)
        {
            throw Card.Fault(at, $"The sweep has {(stop - start) / step:G3} points; more than {MostPoints:G3} are a slip.");
        }

        var axis = new DcSweepAxis(source.Text, start, stop, step);
        axes.Add((source, axis));
        return axis;
    }

    private void Ac(Card card)
    {
        const string Form = ".ac dec|oct|lin points start stop";
        var how = card.Next("dec, oct or lin");
        FrequencySpacing spacing;
        switch (how.Text.ToUpperInvariant())
        {
            case "DEC":
                spacing = FrequencySpacing.Decade;
                break;
            case "OCT":
                spacing = FrequencySpacing.Octave;
                break;
            case "LIN":
                spacing = FrequencySpacing.Linear;
                break;
            default:
                throw Card.Fault(how, $"'{how.Text}' is no spacing of frequencies; write dec, oct or lin.");
        }

        var at = card.Next("the number of points");
        var points = Card.Number(at, "the number of points");
        if (!(points >= 1 && points <= MostPoints && points == Math.Floor(points)))
        {
            throw Card.Fault(at, $"'{at.Text}' points; it must be a whole number from 1 to {MostPoints:G3}.");
        }

        var from = card.Next("the first frequency in hertz");
        var start = Card.Number(from, "the first frequency in hertz");
        var to = card.Next("the last frequency in hertz");
        var stop = Card.Number(to, "the last frequency in hertz");
        card.End(Form);
        if (!(start > 0))
        {
            throw Card.Fault(from, $"A first frequency of '{from.Text}' Hz; it must be positive.");
        }

        if (stop < start)
        {
            throw Card.Fault(to, $"The last frequency, {to.Text} Hz, lies below the first, {from.Text} Hz.");
        }

        var read = new AcCard(spacing, (int)points, start, stop);
        if (read.Count > MostPoints)
        {
            throw Card.Fault(at, $"The analysis has {read.Count:G3} frequencies; more than {MostPoints:G3} are a slip.");
        }

        analyses.Add(read);
    }

    private void Tran(Card card)
    {
        const string Form = ".tran step stop [start [maxstep]] [uic]";
        var step = Time(card, "the step in seconds", out var stepAt);
        var stop = Time(card, "the stop time in seconds", out var stopAt);
        double start = 0;
        double? most = null;
        if (card.TryNumber(out var given))
        {
            start = given;
            if (card.TryNumber(out var longest))
            {
                most = longest;
            }
        }

        var uic = card.TryWord("UIC");
        card.End(Form);
        if (!(step > 0))
        {
            throw Card.Fault(stepAt, $"A step of '{stepAt.Text}' s; it must be positive.");
        }

        if (!(stop > 0))
        {
            throw Card.Fault(stopAt, $"A stop time of '{stopAt.Text}' s; it must be positive.");
        }

        if (stop / step > MostIntervals)
        {
            throw Card.Fault(stepAt, $"The run has {stop / step:G3} intervals of {stepAt.Text} s; more than {MostIntervals:G3} are a slip.");
        }

        if (!(start >= 0 && start < stop))
        {
            throw Card.Fault(stopAt, FormattableString.Invariant($"A start of {start} s and a stop of {stop} s; the start must be zero or more and before the stop."));
        }

        if (most is { } m && !(m > 0))
        {
            throw Card.Fault(stopAt, FormattableString.Invariant($"A longest step of {m} s; it must be positive."));
        }

        var read = new TransientCard(step, stop, start, most, uic);
        if (firstTransient is { } first)
        {
            throw Card.Fault(card.Head, $"A second .tran card; the first is in line {first.Line}. Waveforms take their defaults from it, so a file holds one.");
        }

        firstTransient = card.Head;
        analyses.Add(read);
    }

    private static double Time(Card card, string what, out Token at)
    {
        at = card.Next(what);
        return Card.Number(at, what);
    }

    private void InitialCondition(Card card)
    {
        const string Form = ".ic V(node)=value ...";
        do
        {
            var v = card.Next("V(node)=value");
            if (!v.Is("V"))
            {
                throw Card.Fault(v, $"'{v.Text}' is no node voltage; the form is: {Form}.");
            }

            var node = card.Next("a node");
            var volts = card.Number($"the voltage of node {node.Text}");
            if (node.Is("0"))
            {
                throw Card.Fault(node, "Node 0 is the reference; it is at 0 V always.");
            }

            initial.Add((node, volts));
        }
        while (!card.AtEnd);
    }
}
