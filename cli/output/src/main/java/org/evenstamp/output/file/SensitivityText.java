package org.evenstamp.output.file;

import java.util.Locale;
import org.evenstamp.engine.sensitivity.Goal;
import org.evenstamp.engine.sensitivity.SensitivityAnswer;
import org.evenstamp.output.text.PlainText;
import org.evenstamp.output.text.ShortDecimal;

/** What a solve that was asked backwards says, as lines of text and as JSON. */
public final class SensitivityText {
    /** So many knobs of a goal are printed. */
    private static final int MOST = 8;

    private static final int DIGITS = 4;

    private SensitivityText() {}

    /** Returns the answer as lines of text. */
    public static String text(SensitivityAnswer answer) {
        StringBuilder text = new StringBuilder();
        if (answer.unfilledTiles() > 0) {
            text.append(String.format(
                    Locale.ROOT,
                    "%,d tiles are not full at the end: mend the press first (time, temperature, pressure); what follows holds"
                            + " for this state\n\n",
                    answer.unfilledTiles()));
        }
        for (SensitivityAnswer.OfGoal one : answer.goals()) {
            goal(text, one);
        }
        for (var left : answer.left()) {
            text.append("not asked: ")
                    .append(PlainText.cut(left.subject()))
                    .append(", ")
                    .append(left.reason())
                    .append('\n');
        }
        return text.toString();
    }

    private static void goal(StringBuilder text, SensitivityAnswer.OfGoal one) {
        Goal goal = one.goal();
        text.append(goal.subject())
                .append(", ")
                .append(PlainText.cut(goal.name()))
                .append(": ")
                .append(shown(goal.shown(one.value())))
                .append(' ')
                .append(goal.unit())
                .append(goal.limit().isPresent() ? " (a limit of the job)" : "")
                .append('\n');
        int most = Math.min(MOST, one.turns().size());
        for (SensitivityAnswer.Turned turn : one.turns().subList(0, most)) {
            text.append(String.format(
                    Locale.ROOT,
                    "    %-26s %-7s %+11.4g %s",
                    turn.key(),
                    turn.step(),
                    goal.shown(turn.change()),
                    goal.unit()));
            turn.checked()
                    .ifPresent(checked -> text.append(String.format(
                            Locale.ROOT, "   by differences %+.4g %s", goal.shown(checked), goal.unit())));
            text.append('\n');
        }
        if (one.turns().size() > most) {
            text.append("    and ").append(one.turns().size() - most).append(" weaker ones\n");
        }
        if (!one.shares().isEmpty()) {
            text.append("  where it comes from (shares add up to 100 %, negative ones even out)\n");
            for (SensitivityAnswer.Share share : one.shares()) {
                text.append(String.format(
                        Locale.ROOT, "    %+6.1f %%  %s\n", 100 * share.share(), PlainText.cut(share.what())));
            }
        }
        text.append('\n');
    }

    /** Returns {@code sensitivity.json}. */
    public static String json(SensitivityAnswer answer) {
        return AnswerJson.write(json -> {
            json.text("name", answer.results().name())
                    .whole("unfilled_tiles", answer.unfilledTiles())
                    .whole("steps", answer.steps());
            json.list("goals", list -> {
                for (SensitivityAnswer.OfGoal one : answer.goals()) {
                    list.item(item -> goal(item, one));
                }
            });
            json.list("not_asked", list -> {
                for (var left : answer.left()) {
                    list.item(item -> item.text("limit", left.subject()).text("reason", left.reason()));
                }
            });
        });
    }

    private static void goal(JsonText json, SensitivityAnswer.OfGoal one) throws java.io.IOException {
        Goal goal = one.goal();
        json.text("id", goal.id())
                .text("goal", goal.name())
                .text("region", goal.region())
                .truth("of_a_limit", goal.limit().isPresent())
                .number("value_" + goal.unit(), goal.shown(one.value()));
        json.list("knobs", list -> {
            for (SensitivityAnswer.Turned turn : one.turns()) {
                list.item(item -> {
                    item.text("key", turn.key())
                            .text("step", turn.step())
                            .number("change_" + goal.unit(), goal.shown(turn.change()));
                    if (turn.checked().isPresent()) {
                        item.number(
                                "by_differences_" + goal.unit(),
                                goal.shown(turn.checked().getAsDouble()));
                    }
                });
            }
        });
        json.list("shares", list -> {
            for (SensitivityAnswer.Share share : one.shares()) {
                list.item(item -> item.text("what", share.what())
                        .number("share", share.share())
                        .number("area_share", share.areaShare()));
            }
        });
    }

    private static String shown(double value) {
        return ShortDecimal.of(value, DIGITS);
    }
}
