package org.evenstamp.analysis.pipeline;

import java.util.Arrays;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Stream;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.spi.Analysis;
import org.evenstamp.shared.spi.AnalysisContext;
import org.evenstamp.shared.spi.AnalysisDescription;
import org.evenstamp.shared.spi.AnalysisProvider;
import org.evenstamp.shared.spi.AnalysisResult;
import org.evenstamp.shared.spi.Parameter;
import org.evenstamp.shared.spi.Parameters;

/** Makes analyses of field ids: by default one gives in each tile 1 plus the sum of what it reads. */
record Fake(
        String id,
        List<String> needs,
        List<String> uses,
        List<String> gives,
        List<Parameter> parameters,
        Function<Parameters, Analysis> maker) {

    static Fake of(String id, List<String> needs, List<String> gives) {
        return new Fake(id, needs, List.of(), gives, List.of(), parameters -> context -> sum(context, gives));
    }

    Fake using(String... fields) {
        return new Fake(id, needs, List.of(fields), gives, parameters, maker);
    }

    Fake with(Parameter... more) {
        return new Fake(id, needs, uses, gives, List.of(more), maker);
    }

    Fake running(Analysis analysis) {
        return made(parameters -> analysis);
    }

    Fake made(Function<Parameters, Analysis> with) {
        return new Fake(id, needs, uses, gives, parameters, with);
    }

    static FieldName name(String id) {
        return FieldName.of(id, "nm", "a number");
    }

    static AnalysisResult sum(AnalysisContext context, List<String> gives) {
        double[] sum = new double[context.grid().size()];
        Arrays.fill(sum, 1);
        for (Field field : context.fields().all()) {
            for (int i = 0; i < sum.length; i++) {
                sum[i] += field.at(i);
            }
        }
        return AnalysisResult.of(gives.stream()
                .map(id -> Field.of(name(id), context.grid(), sum))
                .toList());
    }

    FoundAnalysis found() {
        AnalysisDescription description =
                new AnalysisDescription(id, "a fake", parameters, names(needs), names(uses), names(gives));
        return FoundAnalysis.of(
                new AnalysisProvider() {
                    @Override
                    public AnalysisDescription description() {
                        return description;
                    }

                    @Override
                    public Analysis create(Parameters values) {
                        return maker.apply(values);
                    }
                },
                id + ".jar");
    }

    static List<FoundAnalysis> found(Fake... fakes) {
        return Stream.of(fakes).map(fake -> fake.found()).toList();
    }

    private static List<FieldName> names(List<String> ids) {
        return ids.stream().map(Fake::name).toList();
    }
}
