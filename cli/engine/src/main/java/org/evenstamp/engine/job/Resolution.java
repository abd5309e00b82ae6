package org.evenstamp.engine.job;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.completion.JobCompletion;
import org.evenstamp.analysis.completion.NamedMaterials;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.evenstamp.shared.spi.Parameter;
import org.jspecify.annotations.Nullable;

/**
 * The values of a job, completed by what its materials, its film map and its process say.
 *
 * @param numbers SI, by key
 * @param words by key
 * @param tables SI, by key
 * @param library the built-in materials and the job's own
 * @param materials the job's own; null when it names none
 * @param film the film it names
 * @param filmMap its film, where that differs from place to place; null where it does not
 */
record Resolution(
        Map<String, Double> numbers,
        Map<String, String> words,
        Map<String, List<Map<String, Double>>> tables,
        MaterialLibrary library,
        Job.@Nullable MaterialFile materials,
        Optional<Material> film,
        @Nullable FilmMap filmMap) {

    /** Completes the values that a job gives; what is wrong goes to the problems. */
    static Resolution of(JobText text, JobValues values, JobFiles files, JobProblems problems) {
        return new Resolver(text, values, files, problems).resolve();
    }

    /** One completion. */
    private static final class Resolver {
        private final JobText text;
        private final JobValues values;
        private final JobFiles files;
        private final JobProblems problems;

        Resolver(JobText text, JobValues values, JobFiles files, JobProblems problems) {
            this.text = text;
            this.values = values;
            this.files = files;
            this.problems = problems;
        }

        Resolution resolve() {
            Map<String, Double> numbers = values.numbers();
            Map<String, String> words = values.words();
            Map<String, List<Map<String, Double>>> tables = values.tables();
            FilmMap map = filmMap();
            if (map != null && filmsGiven().size() == 1) {
                numbers.put(CommonParameters.FILM_THICKNESS.id(), map.roughlyMetres());
            }
            String name = values.word(JobVocabulary.FILM_MATERIALS.id());
            Path file = name == null ? null : path(JobVocabulary.FILM_MATERIALS, name);
            MaterialLibrary library = file == null || name == null ? files.builtIn() : library(file, name);
            Optional<Material> film = named(library, JobVocabulary.FILM_MATERIAL, MaterialKind.FILM);
            Problems found = new Problems();
            JobCompletion.complete(
                    numbers,
                    words,
                    tables,
                    new NamedMaterials(
                            film,
                            named(library, JobVocabulary.FILM_SOLVENT, MaterialKind.SOLVENT),
                            named(library, JobVocabulary.STAMP_MATERIAL, MaterialKind.STAMP),
                            named(library, JobVocabulary.COATING, MaterialKind.COATING),
                            named(library, JobVocabulary.SUBSTRATE, MaterialKind.SUBSTRATE)),
                    found);
            for (Problem problem : found.all()) {
                String about = problem.place().isEmpty() ? "" : problem.place() + ": ";
                problems.add(values.mark(problem.place()), problem.code(), about + problem.message(), problem.fix());
            }
            return new Resolution(
                    Map.copyOf(numbers),
                    Map.copyOf(words),
                    Map.copyOf(tables),
                    library,
                    file == null || name == null ? null : new Job.MaterialFile(file, name),
                    film,
                    map);
        }

        private List<String> filmsGiven() {
            return List.of(
                            CommonParameters.FILM_THICKNESS.id(),
                            JobCompletion.SPIN_SPEED.id(),
                            JobVocabulary.THICKNESS_MAP.id(),
                            JobVocabulary.DROP_MAP.id())
                    .stream()
                    .filter(values::sets)
                    .toList();
        }

        /** Returns the film where the job gives it in a file. */
        private @Nullable FilmMap filmMap() {
            FilmMap map = null;
            List<String> given = filmsGiven();
            for (JobKey.Text key : List.of(JobVocabulary.THICKNESS_MAP, JobVocabulary.DROP_MAP)) {
                String name = values.word(key.id());
                if (name == null) {
                    continue;
                }
                if (given.indexOf(key.id()) > 0) {
                    problems.add(
                            values.mark(key.id()),
                            "film.thickness-twice",
                            key.id() + " is given beside " + given.get(0) + ", and a film has one thickness",
                            "leave out one of the two");
                }
                Path file = path(key, name);
                if (file != null) {
                    JobFiles.Film film = key.equals(JobVocabulary.THICKNESS_MAP)
                            ? files.thickness(file, name)
                            : files.drops(file, name, dropVolume(), evaporation());
                    problems.addAll(film.problems());
                    map = film.map();
                }
            }
            checkCoatedLimits();
            return map;
        }

        private OptionalDouble dropVolume() {
            Double volume = values.number(DropChoice.VOLUME.id());
            return volume == null ? OptionalDouble.empty() : OptionalDouble.of(volume);
        }

        private double evaporation() {
            Double given = values.number(DropChoice.EVAPORATION.id());
            return given == null ? DropChoice.EVAPORATION.standard().orElse(0) : given;
        }

        private void checkCoatedLimits() {
            for (JobValues.PlacedLimit placed : values.limits()) {
                if (placed.limit().fieldId().equals(TileFields.FILM_COATED.id())
                        && values.word(JobVocabulary.THICKNESS_MAP.id()) == null
                        && values.word(JobVocabulary.DROP_MAP.id()) == null) {
                    problems.add(
                            placed.mark(),
                            "job.limit-unreached",
                            "the limit on " + TileFields.FILM_COATED.id() + " needs a map of the film",
                            "set " + JobVocabulary.THICKNESS_MAP.id() + " or " + JobVocabulary.DROP_MAP.id()
                                    + ", or drop the limit");
                }
            }
        }

        private @Nullable Path path(JobKey.Text key, String name) {
            try {
                return text.beside(name);
            } catch (InvalidPathException e) {
                problems.add(values.mark(key.id()), "job.value", "\"" + name + "\" is not a file name", "");
                return null;
            }
        }

        private MaterialLibrary library(Path file, String name) {
            JobFiles.Materials read = files.materials(file);
            if (!read.unreadable().isEmpty()) {
                problems.add(
                        values.mark(JobVocabulary.FILM_MATERIALS.id()),
                        "job.materials-unreadable",
                        "the materials " + name + " cannot be read: " + read.unreadable(),
                        "film.materials is relative to the job, a text in UTF-8");
            }
            problems.addAll(read.problems());
            return read.library();
        }

        private Optional<Material> named(MaterialLibrary library, JobKey.Text key, MaterialKind kind) {
            String name = values.word(key.id());
            if (name == null) {
                return Optional.empty();
            }
            try {
                return Optional.of(library.get(kind, name));
            } catch (InputException e) {
                e.problems()
                        .forEach(problem -> problems.add(
                                values.mark(key.id()),
                                problem.code(),
                                key.id() + ": " + problem.message(),
                                problem.fix()));
                return Optional.empty();
            }
        }
    }

    /** Returns these values with another film thickness, m. */
    Resolution withThickness(double metres) {
        Map<String, Double> changed = new HashMap<>(numbers);
        changed.put(CommonParameters.FILM_THICKNESS.id(), metres);
        return new Resolution(Map.copyOf(changed), words, tables, library, materials, film, filmMap);
    }

    /** Returns a word, or the first of a choice's options when it is not set. */
    String word(Parameter.Choice choice) {
        return words.getOrDefault(choice.id(), choice.options().get(0));
    }
}
