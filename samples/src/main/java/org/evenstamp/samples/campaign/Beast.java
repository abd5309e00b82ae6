package org.evenstamp.samples.campaign;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.finding.Finding;
import org.evenstamp.shared.finding.Place;
import org.evenstamp.shared.grid.TileGrid;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.progress.CancelledException;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Curve;
import org.evenstamp.shared.spi.Figure;
import org.evenstamp.shared.spi.Parameters;
import org.evenstamp.shared.unit.Unit;

/** A plug-in that misbehaves as a seed says: while it is made, while it runs, or in what it answers. */
@SuppressWarnings("NullAway") // gives null where nobody may: that is what it is for
public final class Beast implements AnalysisProvider {
    private static final FieldName GIVEN = FieldName.of("zoo.value", "1", "nothing");
    private static final FieldName OTHER = FieldName.of("zoo.other", "nm", "nothing else");
    private static final List<String> TEXTS = List.of(
            "no such thing",
            "",
            "\u001b[2J\u0007",
            "half \ud800 a character",
            "\u0000",
            "line\nline",
            "x".repeat(100_000));
    private static final List<Double> NUMBERS =
            List.of(0.0, -0.0, 1.0, Double.NaN, Double.POSITIVE_INFINITY, 4.9e-324, 1.7e308, -1e300);

    private final SplittableRandom random;

    /** A beast of a seed. */
    public Beast(Long seed) {
        random = new SplittableRandom(seed);
    }

    @Override
    public AnalysisDescription description() {
        return new AnalysisDescription("zoo", "misbehaves", List.of(), List.of(), List.of(), List.of(GIVEN));
    }

    @Override
    public Analysis create(Parameters parameters) {
        switch (random.nextInt(8)) {
            case 0 -> throw Beast.<RuntimeException>sneaked(anything());
            case 1 -> {
                return null;
            }
            default -> {
                return this::run;
            }
        }
    }

    private String text() {
        return TEXTS.get(random.nextInt(TEXTS.size()));
    }

    private double number() {
        return NUMBERS.get(random.nextInt(NUMBERS.size()));
    }

    private Throwable anything() {
        return switch (random.nextInt(10)) {
            case 0 -> new IOException(text());
            case 1 -> new AssertionError(text());
            case 2 -> new OutOfMemoryError(text());
            case 3 -> new NoClassDefFoundError(text());
            case 4 -> new CancelledException();
            case 5 -> new InterruptedException(text());
            case 6 -> new StackOverflowError();
            case 7 -> new RuntimeException(null, new RuntimeException(text()));
            case 8 -> new InputException("zoo.input", text(), text(), text());
            default -> new IllegalStateException(text());
        };
    }

    /** Lets a checked exception pass for none, as other languages of the runtime do. */
    @SuppressWarnings({"unchecked", "TypeParameterUnusedInFormals"})
    private static <T extends Throwable> T sneaked(Throwable failure) throws T {
        throw (T) failure;
    }

    private AnalysisResult run(AnalysisContext context) {
        switch (random.nextInt(8)) {
            case 0 -> throw Beast.<RuntimeException>sneaked(anything());
            case 1 -> {
                return null;
            }
            case 2 -> Thread.currentThread().interrupt();
            default -> {
                // answers something
            }
        }
        TileGrid grid = context.grid();
        List<Field> fields = new ArrayList<>();
        int count = random.nextInt(6) == 0 ? random.nextInt(3) : 1;
        for (int i = 0; i < count; i++) {
            fields.add(field(random.nextInt(8) == 0 ? OTHER : GIVEN, grid));
        }
        List<Figure> figures = new ArrayList<>();
        List<Curve> curves = new ArrayList<>();
        List<Finding.Warning> warnings = new ArrayList<>();
        for (int i = random.nextInt(3); i > 0; i--) {
            figures.add(new Figure(text(), number(), Unit.parse("nm"), text()));
        }
        for (int i = random.nextInt(2); i > 0; i--) {
            curves.add(new Curve(
                    random.nextBoolean() ? "curve" : text(),
                    text(),
                    List.of(new Curve.Column(text(), "s", new double[] {0, number()}))));
        }
        for (int i = random.nextInt(3); i > 0; i--) {
            Place place = random.nextInt(3) == 0
                    ? new Place.WholeStamp()
                    : new Place.Tile(random.nextInt(-2, 2_000_000), 0, number(), number());
            warnings.add(new Finding.Warning(text(), text(), text(), place));
        }
        return new AnalysisResult(fields, figures, curves, warnings);
    }

    private Field field(FieldName name, TileGrid grid) {
        TileGrid on = random.nextInt(8) == 0 ? new TileGrid(0, 0, 1, 3, 2) : grid;
        double[] values = new double[on.size() + (random.nextInt(12) == 0 ? 1 : 0)];
        for (int i = random.nextInt(4); i > 0; i--) {
            values[random.nextInt(values.length)] = number();
        }
        return Field.of(name, on, values);
    }
}
