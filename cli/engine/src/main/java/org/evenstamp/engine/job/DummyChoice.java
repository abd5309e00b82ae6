package org.evenstamp.engine.job;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.evenstamp.analysis.dummy.DummyPrices;
import org.evenstamp.geometry.dummy.DummyRules;
import org.evenstamp.geometry.dummy.DummyShape;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameter.Choice;
import org.evenstamp.shared.spi.Parameter.Quantity;
import org.evenstamp.shared.spi.Parameters;
import org.jspecify.annotations.Nullable;

/**
 * The section {@code dummy} of a job: what dummy features look like, where they may stand and what they are for.
 *
 * @param rules shape and distances
 * @param posts raised squares or ribs in cavities that may be broken up; null where none may
 * @param mostShare largest share of a tile's area that dummies may take, 0 to 1
 * @param windowMetres standard deviation of the Gaussian average; empty to find it from stamp and film
 * @param goal what is made small
 * @param over where it is
 * @param prices what dummies cost
 * @param filmRange most by which a film map of the levers may be thinner or thicker than the film, as a share
 * @param amounts where they come from
 * @param rounds most rounds of placing and solving
 */
public record DummyChoice(
        DummyRules rules,
        @Nullable Posts posts,
        double mostShare,
        OptionalDouble windowMetres,
        Goal goal,
        Over over,
        DummyPrices prices,
        double filmRange,
        Amounts amounts,
        int rounds) {
    /** What is made small. */
    public enum Goal {
        /** The variance of the residual layer. */
        VARIANCE,
        /** Largest less smallest value of it. */
        RANGE
    }

    /** Where the residual layer has to be even. */
    public enum Over {
        /** In the regions with a name, by their weights; where there are none, on the whole stamp. */
        REGIONS,
        /** What the layout's own features cover. */
        FEATURES,
        /** On the whole stamp. */
        STAMP
    }

    /**
     * Raised squares or ribs within cavities.
     *
     * @param depthMetres the cavities that may be broken up: those that say this depth of themselves
     * @param rules size and distances
     */
    public record Posts(double depthMetres, DummyRules rules) {
        /** Returns whether they are ribs. */
        public boolean areRibs() {
            return rules.shape().kind() == DummyShape.Kind.LINE;
        }
    }

    /** Where the amounts come from. */
    public enum Amounts {
        /** From the averages first, then from slopes of the solve. */
        SOLVE,
        /** From the averages alone. */
        WINDOW
    }

    private static final Choice SHAPE =
            new Choice("dummy.shape", List.of("square", "disc", "line", "cross"), "shape of a dummy feature");
    private static final Quantity SIZE = Quantity.optional(
            "dummy.size",
            "um",
            2e-4,
            1e5,
            "side, diameter, span or width (along x) of a dummy; evenstamp dummy needs it");
    private static final Quantity LENGTH =
            Quantity.optional("dummy.length", "um", 2e-4, 1e5, "extent along y of a dummy line; needed for lines");
    private static final Quantity ARM = Quantity.optional(
            "dummy.arm", "um", 2e-4, 1e5, "width of a cross's arms; a third of its size when left out");
    private static final Quantity SMALL = Quantity.optional(
            "dummy.small-size", "um", 2e-4, 1e5, "size of a second, smaller dummy of the same shape for narrow places");
    private static final Quantity GAP =
            Quantity.optional("dummy.gap", "um", 1e-4, 1e5, "distance from dummy to dummy; evenstamp dummy needs it");
    private static final Quantity SPACING = Quantity.optional(
            "dummy.spacing", "um", 0, 1e5, "distance from dummies to drawn features; evenstamp dummy needs it");
    private static final Quantity RIM = Quantity.optional(
            "dummy.rim", "um", 0, 1e6, "distance from dummies to the stamp's rim; that to features when left out");
    private static final Choice ARRANGEMENT =
            new Choice("dummy.arrangement", List.of("square", "hexagonal", "staggered"), "how dummies are arranged");
    private static final Choice SENSE =
            new Choice("dummy.sense", List.of("cavities", "protrusions"), "whether dummies are recessed or raised");
    private static final Choice PADS = new Choice(
            "dummy.pads", List.of("closed", "open"), "whether dummies may stand inside large drawn features");
    private static final Choice SYMMETRIC = new Choice(
            "dummy.symmetric", List.of("no", "yes"), "whether a mirrored layout gets exactly mirrored dummies");
    private static final Quantity MOST =
            Quantity.standard("dummy.most", "1", 1, 0, 1, "largest share of a tile's area that dummies may take");
    private static final Quantity WINDOW = Quantity.optional(
            "dummy.window",
            "um",
            1e-3,
            1e6,
            "length over which stamp and film even out the cavity volume (standard deviation of a Gaussian average); found"
                    + " from the stamp's compliance and the film's flow when left out");
    private static final Choice GOAL = new Choice(
            "dummy.goal", List.of("variance", "range"), "what is made small: variance or range of the residual layer");
    private static final Choice OVER = new Choice(
            "dummy.over",
            List.of("regions", "features", "stamp"),
            "where it is made small: in the named regions by their weights (the whole stamp where there are none), over what the"
                    + " features cover, or on the whole stamp");
    private static final Quantity PRICE_AREA = Quantity.standard(
            "dummy.price-area",
            "1",
            DummyPrices.STANDARD.area(),
            0,
            1,
            "price of added volume over the spread without dummies (this project's choice)");
    private static final Quantity PRICE_AMOUNT = Quantity.standard(
            "dummy.price-amount",
            "1",
            DummyPrices.STANDARD.amount(),
            0,
            1,
            "price of uneven amounts beside uneven averages (this project's choice)");
    private static final Choice AMOUNTS = new Choice(
            "dummy.amounts",
            List.of("solve", "window"),
            "where the amounts come from: the averaged volume and then slopes of the solve, with a curve of what fewer dummies bring,"
                    + " or the averaged volume alone, which is faster");
    private static final Quantity ROUNDS = Quantity.standard(
            "dummy.rounds", "1", 5, 1, 20, "most rounds of placing dummies and solving the film again");

    private static final Quantity POST_DEPTH = Quantity.optional(
            "dummy.post-depth",
            "nm",
            0.1,
            1e6,
            "depth that features say of themselves which may be broken up by raised posts, for evenstamp dummy --levers; without it"
                    + " no feature is changed");
    private static final Quantity POST_SIZE = Quantity.optional(
            "dummy.post-size",
            "um",
            2e-4,
            1e5,
            "side of a post, a raised square within such a cavity, or the width of a rib; needed for posts");
    private static final Quantity POST_LENGTH = Quantity.optional(
            "dummy.post-length",
            "um",
            2e-4,
            1e5,
            "length of a rib, which stands in the place of a square post: ribs stripe a cavity, short ones slot it");
    private static final Choice POST_DIRECTION =
            new Choice("dummy.post-direction", List.of("y", "x"), "axis along which ribs run");
    private static final Quantity POST_GAP =
            Quantity.optional("dummy.post-gap", "um", 1e-4, 1e5, "distance from post to post; needed for posts");
    private static final Quantity POST_SPACING = Quantity.optional(
            "dummy.post-spacing",
            "um",
            0,
            1e5,
            "distance from posts to the walls of the cavity; their gap when left out");

    private static final Quantity FILM_RANGE = Quantity.standard(
            "dummy.film-range",
            "1",
            0.1,
            0,
            0.5,
            "most by which the film map of evenstamp dummy --levers may be thinner or thicker than the film, as a share");

    static final List<Parameter> PARAMETERS = List.of(
            SHAPE,
            SIZE,
            LENGTH,
            ARM,
            SMALL,
            GAP,
            SPACING,
            RIM,
            ARRANGEMENT,
            SENSE,
            PADS,
            SYMMETRIC,
            MOST,
            WINDOW,
            GOAL,
            OVER,
            PRICE_AREA,
            PRICE_AMOUNT,
            AMOUNTS,
            ROUNDS,
            POST_DEPTH,
            POST_SIZE,
            POST_LENGTH,
            POST_DIRECTION,
            POST_GAP,
            POST_SPACING,
            FILM_RANGE);

    /**
     * Reads the section of a job.
     *
     * @throws org.evenstamp.shared.problem.InputException when a number is missing
     */
    public static DummyChoice of(Job job) {
        Parameters p = job.settings();
        boolean line = p.choice(SHAPE.id()).equals("line");
        Problems problems = new Problems();
        for (Quantity needed : line ? List.of(SIZE, LENGTH, GAP, SPACING) : List.of(SIZE, GAP, SPACING)) {
            if (p.find(needed.id()).isEmpty()) {
                problems.add(job.lacks(needed));
            }
        }
        OptionalDouble postDepth = p.find(POST_DEPTH.id());
        for (Quantity needed : List.of(POST_SIZE, POST_GAP)) {
            if (postDepth.isPresent() && p.find(needed.id()).isEmpty()) {
                problems.add(job.lacks(needed));
            }
        }
        problems.throwIfAny();
        double size = p.quantity(SIZE.id());
        double spacing = p.quantity(SPACING.id());
        OptionalDouble small = p.find(SMALL.id());
        return new DummyChoice(
                new DummyRules(
                        shape(p, size, 1),
                        small.isPresent() ? shape(p, small.getAsDouble(), small.getAsDouble() / size) : null,
                        DummyRules.Arrangement.valueOf(word(p, ARRANGEMENT)),
                        p.quantity(GAP.id()),
                        spacing,
                        p.find(RIM.id()).orElse(spacing),
                        MapOptions.Drawn.valueOf(word(p, SENSE)),
                        p.choice(PADS.id()).equals("open"),
                        p.choice(SYMMETRIC.id()).equals("yes")),
                postDepth.isPresent() ? posts(p, postDepth.getAsDouble()) : null,
                p.quantity(MOST.id()),
                p.find(WINDOW.id()),
                Goal.valueOf(word(p, GOAL)),
                Over.valueOf(word(p, OVER)),
                new DummyPrices(p.quantity(PRICE_AREA.id()), p.quantity(PRICE_AMOUNT.id())),
                p.quantity(FILM_RANGE.id()),
                Amounts.valueOf(word(p, AMOUNTS)),
                (int) Math.rint(p.quantity(ROUNDS.id())));
    }

    private static Posts posts(Parameters p, double depth) {
        double gap = p.quantity(POST_GAP.id());
        double spacing = p.find(POST_SPACING.id()).orElse(gap);
        return new Posts(
                depth,
                new DummyRules(
                        post(p),
                        null,
                        DummyRules.Arrangement.SQUARE,
                        gap,
                        spacing,
                        spacing,
                        MapOptions.Drawn.PROTRUSIONS,
                        true,
                        p.choice(SYMMETRIC.id()).equals("yes")));
    }

    private static DummyShape post(Parameters p) {
        double size = p.quantity(POST_SIZE.id());
        OptionalDouble length = p.find(POST_LENGTH.id());
        if (length.isEmpty()) {
            return DummyShape.square(size);
        }
        boolean alongX = p.choice(POST_DIRECTION.id()).equals("x");
        return alongX ? DummyShape.line(length.getAsDouble(), size) : DummyShape.line(size, length.getAsDouble());
    }

    private static String word(Parameters p, Choice choice) {
        return p.choice(choice.id()).toUpperCase(Locale.ROOT);
    }

    private static DummyShape shape(Parameters p, double size, double scale) {
        return switch (p.choice(SHAPE.id())) {
            case "disc" -> DummyShape.disc(size);
            case "line" -> DummyShape.line(size, p.quantity(LENGTH.id()) * scale);
            case "cross" -> DummyShape.cross(size, p.find(ARM.id()).orElse(size / scale / 3) * scale);
            default -> DummyShape.square(size);
        };
    }
}
