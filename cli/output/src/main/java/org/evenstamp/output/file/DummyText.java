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
        text.append("cavity volume averaged over ")
                .append(shown(proposal.windowMetres() * 1e6))
                .append(" um, to be even over ")
                .append(PlainText.cut(proposal.over()))
                .append('\n');
        for (DummyProposal.Round round : proposal.rounds()) {
            text.append(String.format(
                    Locale.ROOT,
                    "round %d: %,d dummies, %s of %s mm^2 asked, residual 3 sigma %s nm (program: gap %.1e after %d"
                            + " iterations)\n",
                    round.number(),
                    round.dummies(),
                    shown(round.placedSquareMetres() * 1e6),
                    shown(round.askedSquareMetres() * 1e6),
                    shown(round.sigma3Metres() * 1e9),
                    round.program().gap(),
                    round.program().iterations()));
            if (!round.program().converged()) {
                text.append("warning: the program ended at its budget; its gap is what is stated\n");
            }
        }
        return text.toString();
    }

    /** Returns {@code comparison.json}. */
    public static String json(DummyProposal proposal, Comparison comparison) {
        return AnswerJson.write(json -> {
            json.text("over", proposal.over());
            json.number("window_um", proposal.windowMetres() * 1e6)
                    .whole("dummies", proposal.dummies())
                    .number("dummy_area_mm2", proposal.areaSquareMetres() * 1e6);
            json.list("rounds", list -> {
                for (DummyProposal.Round round : proposal.rounds()) {
                    list.item(item -> item.whole("round", round.number())
                            .whole("dummies", round.dummies())
                            .number("asked_mm2", round.askedSquareMetres() * 1e6)
                            .number("placed_mm2", round.placedSquareMetres() * 1e6)
                            .number("residual_3_sigma_nm", round.sigma3Metres() * 1e9)
                            .number("objective_start", round.program().start())
                            .number("primal", round.program().primal())
                            .number("dual", round.program().dual())
                            .number("gap", round.program().gap())
                            .whole("iterations", round.program().iterations()));
                }
            });
            ComparisonText.json(comparison, json);
        });
    }

    private static String shown(double value) {
        return ShortDecimal.of(value, DIGITS);
    }
}
