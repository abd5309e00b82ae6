package org.evenstamp.analysis.completion;

import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.evenstamp.analysis.process.FloryHuggins;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.shared.problem.Problems;

/** The share of solvent in a film, where a job gives the activity of the vapour instead. */
final class VapourShare {
    /** More solvent than that is a solution, not a film. */
    private static final double MOST = 0.99;

    private VapourShare() {}

    /** Adds the share that the vapour makes, or tells what is missing or too much. */
    static void complete(Map<String, Double> numbers, Set<String> doubtful, Problems problems) {
        String share = ProcessParameters.SOLVENT_SHARE.id();
        String activity = FloryHuggins.ACTIVITY.id();
        String chi = FloryHuggins.CHI.id();
        Double vapour = numbers.get(activity);
        if (doubtful.contains(activity) || (vapour != null && doubtful.contains(chi))) {
            doubtful.add(share);
            return;
        }
        if (vapour == null) {
            return;
        }
        Double interaction = numbers.get(chi);
        if (numbers.containsKey(share)) {
            problems.add(
                    "process.twice",
                    share,
                    "it is given beside " + activity + ", which says it too",
                    "leave one of the two out");
        } else if (interaction == null) {
            problems.add(
                    ProcessParameters.MISSING,
                    activity,
                    "an activity says how much solvent is in the film only with " + chi,
                    "give " + chi + ", or " + share + " in the place of the activity");
            doubtful.add(share);
        } else {
            double taken = new FloryHuggins(interaction).share(vapour);
            if (taken > MOST) {
                problems.add(
                        "process.vapour",
                        activity,
                        String.format(
                                Locale.ROOT,
                                "the film would take up %.4g %% of solvent: that is a solution",
                                100 * taken),
                        "a vapour further from saturation");
                doubtful.add(share);
            } else {
                numbers.put(share, taken);
            }
        }
    }
}
