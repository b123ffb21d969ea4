using BoardSim.Scenarios;

namespace BoardSim.Cli.Commands;

/// <summary>How the cases of sweeps and tolerance runs are computed.</summary>
/// <param name="Threads">Most computations at the same time.</param>
/// <param name="Resume">True to go on from finished cases.</param>
/// <param name="Shard">The part that is computed; null for all.</param>
internal sealed record CaseSettings(int Threads, bool Resume, Shard? Shard);

/// <summary>Opens the file of finished cases in a folder of results.</summary>
internal static class CaseFiles
{
    /// <summary>The store of a scenario, with what earlier runs finished when it is to go on from there.</summary>
    /// <exception cref="InputException">There are finished cases and nobody said what to do with them, or they cannot be used.</exception>
    public static CaseStore Open(Scenario scenario, string folder, CaseSettings settings)
    {
        if (settings.Shard is not null && scenario is { Sweep: null, Tolerance: null })
        {
            throw new InputException($"{scenario.Id}: there is no sweep and no tolerance run, so there are no cases to share; run it without --shard.");
        }

        var store = new CaseStore(scenario, Path.Combine(folder, settings.Shard is { } shard ? CaseStore.NameOf(shard) : CaseStore.PartialName));
        if (settings.Resume)
        {
            try
            {
                store.Load();
            }
            catch (CaseStoreException wrong)
            {
                throw new InputException(wrong.Message);
            }
        }
        else if (File.Exists(store.Path))
        {
            throw new InputException($"{store.Path} holds finished cases of a run that was broken off; add --resume to go on from there, or delete it to start anew.");
        }

        return store;
    }
}
