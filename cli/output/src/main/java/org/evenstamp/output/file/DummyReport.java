package org.evenstamp.output.file;

import java.util.List;
import java.util.Locale;
import org.evenstamp.analysis.dummy.ProgramReport;
import org.evenstamp.shared.finding.Finding;

/**
 * How dummies were found.
 *
 * @param windowMetres length over which the cavity volume was averaged
 * @param dummies how many were placed
 * @param areaSquareMetres their area
 * @param rounds what each round did
 * @param warnings tiles that could not be served
 */
public record DummyReport(
        double windowMetres,
        long dummies,
        double areaSquareMetres,
        List<Round> rounds,
        List<Finding.Warning> warnings) {
    /**
     * One round.
     *
     * @param number from 1
     * @param program how the program ended
     * @param dummies how many were placed
     * @param askedSquareMetres area asked for
     * @param placedSquareMetres area placed
     * @param sigma3Metres three standard deviations of the residual layer that came out
     */
    public record Round(
            int number,
            ProgramReport program,
            long dummies,
            double askedSquareMetres,
            double placedSquareMetres,
            double sigma3Metres) {}

    /** Copies the lists. */
    public DummyReport {
        rounds = List.copyOf(rounds);
        warnings = List.copyOf(warnings);
    }

    /** Returns the rounds as lines of text. */
    public String text() {
        StringBuilder text = new StringBuilder();
        text.append("cavity volume averaged over ")
                .append(Comparison.shown(windowMetres * 1e6))
                .append(" um\n");
        for (Round round : rounds) {
            text.append(String.format(
                    Locale.ROOT,
                    "round %d: %,d dummies, %s of %s mm^2 asked, residual 3 sigma %s nm (program: gap %.1e after %d"
                            + " iterations)%n",
                    round.number(),
                    round.dummies(),
                    Comparison.shown(round.placedSquareMetres() * 1e6),
                    Comparison.shown(round.askedSquareMetres() * 1e6),
                    Comparison.shown(round.sigma3Metres() * 1e9),
                    round.program().gap(),
                    round.program().iterations()));
            if (!round.program().converged()) {
                text.append("warning: the program ended at its budget; its gap is what is stated\n");
            }
        }
        return text.toString().replace(System.lineSeparator(), "\n");
    }

    /** Returns {@code comparison.json}. */
    public String json(Comparison comparison) {
        return AnswerJson.write(json -> {
            json.number("window_um", windowMetres * 1e6)
                    .whole("dummies", dummies)
                    .number("dummy_area_mm2", areaSquareMetres * 1e6);
            json.list("rounds", list -> {
                for (Round round : rounds) {
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
            comparison.json(json);
        });
    }
}
