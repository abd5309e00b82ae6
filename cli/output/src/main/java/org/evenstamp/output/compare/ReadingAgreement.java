package org.evenstamp.output.compare;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.evenstamp.engine.calibrate.PlaceValue;
import org.evenstamp.engine.calibrate.Readings;
import org.evenstamp.output.file.JsonText;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.unit.Unit;

/**
 * How a run agrees with measured places, without a fit. Numbers are in the unit of the field; a difference is measured less
 * computed.
 *
 * @param field the field that was measured
 * @param unit its unit
 * @param places the places, the worst first: by difference over deviation
 * @param bias mean difference
 * @param rms root of the mean square difference
 * @param sigma3 three standard deviations of the differences about their mean
 * @param chiSquare sum of squares of difference over deviation
 * @param probability chance of a chi-square at least this large if run and deviations are right
 */
public record ReadingAgreement(
        String field,
        String unit,
        List<Place> places,
        double bias,
        double rms,
        double sigma3,
        double chiSquare,
        double probability) {
    private static final int WORST = 5;

    /** Copies the places. */
    public ReadingAgreement {
        places = List.copyOf(places);
    }

    /**
     * One place.
     *
     * @param reading what was measured
     * @param computed what the run says
     * @param difference measured less computed
     * @param deviations difference over the reading's standard deviation
     */
    public record Place(Readings.Reading reading, double computed, double difference, double deviations) {}

    /**
     * Holds readings against a run.
     *
     * @throws InputException when the run lacks the field, or has no value at a place
     */
    public static ReadingAgreement of(StoredRun run, Readings readings) {
        String symbol = run.fields().get(readings.fieldId());
        if (symbol == null) {
            throw new InputException(
                    "compare.no-field",
                    run.place(),
                    "there is no " + readings.fieldId() + " in this run, which was measured",
                    "");
        }
        Unit unit = Unit.parse(symbol);
        Field field = field(run, readings.fieldId(), unit);
        Problems problems = new Problems();
        List<Place> places = new ArrayList<>();
        for (Readings.Reading reading : readings.readings()) {
            double si = PlaceValue.at(field, reading.xMetres(), reading.yMetres());
            if (Double.isNaN(si)) {
                problems.add(
                        "compare.place",
                        "line " + reading.line(),
                        "the run has no " + readings.fieldId() + " there: the place is beyond the stamp or in a cavity",
                        "leave the place out");
                continue;
            }
            double difference = (reading.valueSi() - si) / unit.scale();
            places.add(
                    new Place(reading, unit.fromSi(si), difference, (reading.valueSi() - si) / reading.deviationSi()));
        }
        problems.throwIfAny();
        int n = places.size();
        double bias = places.stream().mapToDouble(Place::difference).sum() / n;
        double square = places.stream()
                        .mapToDouble(one -> one.difference() * one.difference())
                        .sum()
                / n;
        double chiSquare = places.stream()
                .mapToDouble(one -> one.deviations() * one.deviations())
                .sum();
        places.sort(Comparator.comparingDouble((Place one) -> -Math.abs(one.deviations())));
        return new ReadingAgreement(
                readings.fieldId(),
                symbol,
                places,
                bias,
                Math.sqrt(square),
                3 * Math.sqrt(Math.max(0, square - bias * bias)),
                chiSquare,
                1 - new ChiSquaredDistribution(null, n).cumulativeProbability(chiSquare));
    }

    private static Field field(StoredRun run, String id, Unit unit) {
        try (StoredFields stored = StoredFields.open(run.arrays(), run.grid())) {
            double[] values = stored.values(id);
            for (int i = 0; i < values.length; i++) {
                values[i] = unit.toSi(values[i]);
            }
            return Field.of(FieldName.of(id, unit.symbol(), "stored"), run.grid(), values);
        } catch (IOException e) {
            throw new InputException("compare.arrays", run.arrays().toString(), String.valueOf(e.getMessage()), "");
        }
    }

    /** Returns it as lines for a person. */
    public String text() {
        StringBuilder text = new StringBuilder();
        text.append(format(
                "%s at %d places: bias %+.4g %s, rms %.4g, 3 sigma %.4g %s%n",
                field, places.size(), bias, unit, rms, sigma3, unit));
        text.append(format("chi-square %.4g for %d places, probability %.3g%n", chiSquare, places.size(), probability));
        for (Place place : places.subList(0, Math.min(WORST, places.size()))) {
            text.append(format(
                    "  x %.4g mm, y %.4g mm (line %d): measured %.4g, computed %.4g, difference %+.3g %s, %.1f deviations%n",
                    place.reading().xMetres() * 1e3,
                    place.reading().yMetres() * 1e3,
                    place.reading().line(),
                    place.computed() + place.difference(),
                    place.computed(),
                    place.difference(),
                    unit,
                    place.deviations()));
        }
        return text.toString();
    }

    /** Returns it as JSON. */
    public String json() {
        return JsonText.object(json -> {
            json.text("field", field)
                    .text("unit", unit)
                    .number("bias", bias)
                    .number("rms", rms)
                    .number("sigma3", sigma3)
                    .number("chi_square", chiSquare)
                    .number("probability", probability);
            json.list("places", list -> {
                for (Place place : places) {
                    list.item(item -> item.whole("line", place.reading().line())
                            .number("x_mm", place.reading().xMetres() * 1e3)
                            .number("y_mm", place.reading().yMetres() * 1e3)
                            .number("computed", place.computed())
                            .number("difference", place.difference())
                            .number("deviations", place.deviations()));
                }
            });
        });
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
