package org.evenstamp.output.file;

import java.util.Locale;
import org.evenstamp.engine.design.Comparison;
import org.evenstamp.engine.design.LeverPlan;
import org.evenstamp.engine.design.LeverPlan.Kind;
import org.evenstamp.engine.design.LeverPlan.Lever;
import org.evenstamp.output.text.PlainText;
import org.evenstamp.output.text.ShortDecimal;

/** A plan of levers, as lines of text and as JSON. */
public final class PlanText {
    private static final int DIGITS = 4;

    private PlanText() {}

    /** Returns the plan as lines of text, without the comparison. */
    public static String text(LeverPlan plan) {
        StringBuilder text = new StringBuilder();
        plan.before()
                .unfilled()
                .ifPresent(unfilled -> text.append("before all else: as it is, ")
                        .append(unfilled.sentence())
                        .append("; mend the press before the stamp\n"));
        text.append("residual ")
                .append(plan.goal())
                .append(" over ")
                .append(PlainText.cut(plan.over()))
                .append(": ")
                .append(shown(plan.startMetres()))
                .append(" nm as it is; every number below is solved\n");
        text.append(String.format(
                Locale.ROOT, "   %-9s %12s %22s  %s%n", "lever", "alone, nm", "with those before, nm", ""));
        int number = 0;
        for (Lever lever : plan.levers()) {
            boolean taken = lever.kind() != Kind.TOLD;
            text.append(String.format(
                    Locale.ROOT,
                    "%2s %-9s %12s %22s  %s%n",
                    taken ? String.valueOf(++number) : "",
                    lever.name(),
                    shown(lever.aloneMetres()),
                    lever.togetherMetres().isPresent()
                            ? shown(lever.togetherMetres().getAsDouble())
                            : "not in the plan",
                    lever.what() + (lever.file().isEmpty() ? "" : ": " + lever.file())));
        }
        return text.toString();
    }

    /** Returns {@code plan.json}. */
    public static String json(LeverPlan plan, Comparison comparison) {
        return AnswerJson.write(json -> {
            json.text("over", plan.over()).text("goal", plan.goal()).number("goal_start_nm", plan.startMetres() * 1e9);
            json.list("levers", list -> {
                for (Lever lever : plan.levers()) {
                    list.item(item -> {
                        item.text("lever", lever.name())
                                .text("what", lever.what())
                                .text("taken", lever.kind().name().toLowerCase(Locale.ROOT))
                                .number("alone_nm", lever.aloneMetres() * 1e9);
                        if (lever.togetherMetres().isPresent()) {
                            item.number("together_nm", lever.togetherMetres().getAsDouble() * 1e9);
                        }
                        if (!lever.file().isEmpty()) {
                            item.text("file", lever.file());
                        }
                    });
                }
            });
            ComparisonText.json(comparison, json);
        });
    }

    private static String shown(double metres) {
        return ShortDecimal.of(metres * 1e9, DIGITS);
    }
}
