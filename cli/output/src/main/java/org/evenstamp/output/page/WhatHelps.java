package org.evenstamp.output.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.evenstamp.engine.design.Comparison;
import org.evenstamp.engine.design.DummyProposal;
import org.evenstamp.engine.design.LeverPlan;
import org.evenstamp.output.text.ShortDecimal;

/**
 * What a page tells of changes that would help: three sigma of the residual layer over every region before and after, first of
 * all; then what dummies bring over their number, or the plan of levers.
 *
 * @param tables in the order in which they are told
 * @param curve what dummies bring; empty where that is not told
 * @param goal what the curve shows, in words
 */
public record WhatHelps(List<Table> tables, List<Place> curve, String goal) {
    private static final int DIGITS = 4;
    private static final String SPREAD = "residual 3 sigma";

    /**
     * A table.
     *
     * @param caption above it
     * @param head of its columns
     * @param rows as long as the head
     */
    public record Table(String caption, List<String> head, List<List<String>> rows) {
        /** Copies the lists. */
        public Table {
            head = List.copyOf(head);
            rows = rows.stream().map(List::copyOf).toList();
        }
    }

    /**
     * A place of the curve.
     *
     * @param dummies how many
     * @param nanometres the number that they are to make small
     * @param proposed whether they are proposed
     */
    public record Place(long dummies, double nanometres, boolean proposed) {}

    /** Copies the lists. */
    public WhatHelps {
        tables = List.copyOf(tables);
        curve = List.copyOf(curve);
    }

    /** Returns what is told of dummies. */
    public static WhatHelps of(DummyProposal proposal, Comparison comparison) {
        List<Place> curve = new ArrayList<>();
        if (!proposal.curve().isEmpty()) {
            curve.add(new Place(0, proposal.startMetres() * 1e9, false));
        }
        List<List<String>> rows = new ArrayList<>();
        for (DummyProposal.Round round : proposal.curve()) {
            curve.add(new Place(round.dummies(), round.goalMetres() * 1e9, round.kept()));
            rows.add(List.of(
                    String.format(Locale.ROOT, "%,d", round.dummies()),
                    shown(round.goalMetres() * 1e9),
                    change(proposal.startMetres(), round.goalMetres()),
                    round.kept() ? "proposed" : ""));
        }
        String goal = proposal.goal() + " over " + proposal.over();
        Table bring = new Table(
                rows.isEmpty() ? "Dummies bring nothing that was found: " + goal : "What dummies bring: " + goal,
                List.of("dummies", "nm", "change", ""),
                rows);
        return new WhatHelps(List.of(regions(comparison), bring), curve, goal);
    }

    /** Returns what is told of a plan. */
    public static WhatHelps of(LeverPlan plan, Comparison comparison) {
        List<List<String>> rows = new ArrayList<>();
        for (LeverPlan.Lever lever : plan.levers()) {
            OptionalDouble together = lever.togetherMetres();
            rows.add(List.of(
                    lever.name(),
                    shown(lever.aloneMetres() * 1e9),
                    together.isPresent() ? shown(together.getAsDouble() * 1e9) : "not in the plan",
                    together.isPresent() ? change(plan.startMetres(), together.getAsDouble()) : "",
                    lever.what()));
        }
        Table levers = new Table(
                "The plan, in its order: " + plan.goal() + " over " + plan.over() + ", "
                        + shown(plan.startMetres() * 1e9) + " nm as it is",
                List.of("lever", "alone, nm", "with those before, nm", "change", "what"),
                rows);
        return new WhatHelps(List.of(regions(comparison), levers), List.of(), "");
    }

    private static Table regions(Comparison comparison) {
        List<String> head = new ArrayList<>(List.of("where"));
        comparison.variants().forEach(variant -> head.add(variant.name()));
        head.add("change");
        List<List<String>> rows = new ArrayList<>();
        for (Comparison.Row row : comparison.rows()) {
            if (!row.what().startsWith(SPREAD)) {
                continue;
            }
            String where = row.what().substring(SPREAD.length()).replaceFirst("^( in|,) ", "");
            List<String> cells = new ArrayList<>(List.of(where.isEmpty() ? "the whole stamp" : where));
            row.values().forEach(value -> cells.add(value.isPresent() ? shown(value.getAsDouble()) : "-"));
            OptionalDouble before = row.values().get(0);
            OptionalDouble after = row.values().get(1);
            cells.add(before.isPresent() && after.isPresent() ? change(before.getAsDouble(), after.getAsDouble()) : "");
            rows.add(cells);
        }
        return new Table("3 sigma of the residual layer, nm", head, rows);
    }

    /** Says what became of a number of which less is better, so that what got worse is plain. */
    private static String change(double before, double after) {
        if (!(before > 0)) {
            return "";
        }
        double percent = 100 * (after / before - 1);
        return String.format(Locale.ROOT, "%+.1f %%%s", percent, percent > 0.05 ? ", worse" : "");
    }

    private static String shown(double value) {
        return ShortDecimal.of(value, DIGITS);
    }
}
