package org.evenstamp.output.file;

import java.util.Locale;
import org.evenstamp.engine.design.Comparison;
import org.evenstamp.engine.design.DummyProposal;
import org.evenstamp.output.text.PlainText;
import org.evenstamp.output.text.ShortDecimal;

/** How dummies were found, as lines of text and as JSON. */
public final class DummyText {
    private static final int DIGITS = 4;

    private DummyText() {}

    /** Returns the rounds as lines of text. */
    public static String rounds(DummyProposal proposal) {
        StringBuilder text = new StringBuilder();
        // A layer that is not there yet is not evened out by dummies.
        proposal.before()
                .unfilled()
                .ifPresent(unfilled -> text.append("before all else: without dummies ")
                        .append(unfilled.sentence())
                        .append("; mend the press before the stamp\n"));
        bring(proposal, text);
        text.append("cavity volume averaged over ")
                .append(shown(proposal.windowMetres() * 1e6))
                .append(" um, to be even over ")
                .append(PlainText.cut(proposal.over()))
                .append('\n');
        if (!proposal.noSlopes().isEmpty()) {
            text.append("without slopes of the solve: ")
                    .append(proposal.noSlopes())
                    .append('\n');
        }
        for (DummyProposal.Round round : proposal.rounds()) {
            text.append(String.format(
                    Locale.ROOT,
                    "round %d, %s: %,d dummies, %s of %s mm^2 asked, residual %s %s nm (program: gap %.1e after %d"
                            + " iterations)\n",
                    round.number(),
                    round.way().word(),
                    round.dummies(),
                    shown(round.placedSquareMetres() * 1e6),
                    shown(round.askedSquareMetres() * 1e6),
                    proposal.goal(),
                    shown(round.goalMetres() * 1e9),
                    round.program().gap(),
                    round.program().iterations()));
            if (!round.program().converged()) {
                text.append("warning: the program ended at its budget; its gap is what is stated\n");
            }
        }
        curve(proposal, text);
        return text.toString();
    }

    /** Says first what dummies can do. */
    private static void bring(DummyProposal proposal, StringBuilder text) {
        String what = "residual " + proposal.goal() + " over " + PlainText.cut(proposal.over());
        if (proposal.curve().isEmpty()) {
            text.append("dummies bring nothing found here: ")
                    .append(what)
                    .append(" is ")
                    .append(shown(proposal.startMetres() * 1e9))
                    .append(" nm without them, and more in every round\n");
            return;
        }
        DummyProposal.Round best = proposal.curve().get(proposal.curve().size() - 1);
        text.append(String.format(
                Locale.ROOT,
                "the most that dummies were found to bring: %s from %s to %s nm (%.1f %% less), with %,d dummies%n",
                what,
                shown(proposal.startMetres() * 1e9),
                shown(best.goalMetres() * 1e9),
                100 * (1 - best.goalMetres() / proposal.startMetres()),
                best.dummies()));
    }

    private static void curve(DummyProposal proposal, StringBuilder text) {
        if (proposal.curve().isEmpty()) {
            return;
        }
        text.append(String.format(Locale.ROOT, "%n%14s  %s%n", "dummies", "residual " + proposal.goal() + ", nm"));
        text.append(String.format(Locale.ROOT, "%,14d  %s%n", 0, shown(proposal.startMetres() * 1e9)));
        boolean past = false;
        for (DummyProposal.Round round : proposal.curve()) {
            text.append(String.format(
                    Locale.ROOT,
                    "%,14d  %s  (%.1f %% less)%s%n",
                    round.dummies(),
                    shown(round.goalMetres() * 1e9),
                    100 * (1 - round.goalMetres() / proposal.startMetres()),
                    round.kept() ? "  proposed" : past ? "  does not pay" : ""));
            past |= round.kept();
        }
    }

    /** Returns {@code comparison.json}. */
    public static String json(DummyProposal proposal, Comparison comparison) {
        return AnswerJson.write(json -> {
            json.text("over", proposal.over());
            json.text("goal", proposal.goal());
            json.number("goal_start_nm", proposal.startMetres() * 1e9);
            json.number("window_um", proposal.windowMetres() * 1e6)
                    .whole("dummies", proposal.dummies())
                    .number("dummy_area_mm2", proposal.areaSquareMetres() * 1e6);
            json.list("rounds", list -> {
                for (DummyProposal.Round round : proposal.rounds()) {
                    list.item(item -> item.whole("round", round.number())
                            .text("way", round.way().word())
                            .whole("dummies", round.dummies())
                            .number("asked_mm2", round.askedSquareMetres() * 1e6)
                            .number("placed_mm2", round.placedSquareMetres() * 1e6)
                            .number("residual_3_sigma_nm", round.sigma3Metres() * 1e9)
                            .number("goal_nm", round.goalMetres() * 1e9)
                            .number("objective_start", round.program().start())
                            .number("primal", round.program().primal())
                            .number("dual", round.program().dual())
                            .number("gap", round.program().gap())
                            .whole("iterations", round.program().iterations()));
                }
            });
            json.list("curve", list -> {
                for (DummyProposal.Round round : proposal.curve()) {
                    list.item(item -> item.whole("dummies", round.dummies())
                            .number("placed_mm2", round.placedSquareMetres() * 1e6)
                            .number("goal_nm", round.goalMetres() * 1e9)
                            .truth("proposed", round.kept()));
                }
            });
            if (!proposal.noSlopes().isEmpty()) {
                json.text("no_slopes", proposal.noSlopes());
            }
            ComparisonText.json(comparison, json);
        });
    }

    private static String shown(double value) {
        return ShortDecimal.of(value, DIGITS);
    }
}
