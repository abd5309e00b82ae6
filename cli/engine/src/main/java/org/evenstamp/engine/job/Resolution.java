package org.evenstamp.engine.job;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import org.evenstamp.analysis.CommonParameters;
import org.evenstamp.analysis.completion.FilmThickness;
import org.evenstamp.analysis.completion.JobCompletion;
import org.evenstamp.analysis.completion.MaterialAnswers;
import org.evenstamp.analysis.completion.NamedMaterials;
import org.evenstamp.analysis.completion.ValueSet;
import org.evenstamp.analysis.material.Material;
import org.evenstamp.analysis.material.MaterialKind;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.analysis.process.Lamp;
import org.evenstamp.analysis.process.ProcessParameters;
import org.evenstamp.shared.field.FieldName;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.finding.Limit;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.spi.Parameter;
import org.jspecify.annotations.Nullable;

/**
 * The values of a job, completed by what its materials, its film map and its process say.
 *
 * @param values all values, SI
 * @param library the built-in materials and the job's own
 * @param materials the job's own; null when it names none
 * @param named the materials it names
 * @param filmMap its film, where that differs from place to place; null where it does not
 * @param lampMap its lamp, where that was measured; null where it was not
 */
record Resolution(
        ValueSet values,
        MaterialLibrary library,
        Job.@Nullable MaterialFile materials,
        NamedMaterials named,
        @Nullable FilmMap filmMap,
        @Nullable LampMap lampMap) {

    private static final List<String> OTHER_LAMPS =
            List.of(ProcessParameters.IRRADIANCE.id(), Lamp.UNEVEN_X.id(), Lamp.UNEVEN_Y.id(), Lamp.FALLOFF.id());

    private static final String CURE_INDEX = "cure.index";

    /** Returns the files of its maps. */
    List<Job.NamedFile> maps() {
        List<Job.NamedFile> maps = new ArrayList<>();
        if (filmMap != null) {
            maps.add(new Job.NamedFile(filmMap.file(), filmMap.asWritten()));
        }
        if (lampMap != null) {
            maps.add(new Job.NamedFile(lampMap.file(), lampMap.asWritten()));
        }
        return maps;
    }

    /** Completes the values that a job gives; what is wrong goes to the problems. */
    static Resolution of(JobText text, JobValues values, JobFiles files, ProblemPlaces places, JobProblems problems) {
        return new Resolver(text, values, files, places, problems).resolve();
    }

    /** One completion. */
    private static final class Resolver {
        private final JobText text;
        private final JobValues values;
        private final JobFiles files;
        private final ProblemPlaces places;
        private final JobProblems problems;
        private final Set<String> doubtful;
        private boolean wholeLibrary = true;

        Resolver(JobText text, JobValues values, JobFiles files, ProblemPlaces places, JobProblems problems) {
            this.text = text;
            this.values = values;
            this.files = files;
            this.places = places;
            this.problems = problems;
            this.doubtful = new HashSet<>(values.doubtful());
        }

        Resolution resolve() {
            Map<String, Double> numbers = values.numbers();
            FilmMap map = filmMap();
            if (map != null && filmsGiven().size() == 1) {
                numbers.put(CommonParameters.FILM_THICKNESS.id(), map.roughlyMetres());
            }
            LampMap lamp = lampMap();
            if (lamp != null && !values.sets(ProcessParameters.IRRADIANCE.id())) {
                numbers.put(ProcessParameters.IRRADIANCE.id(), lamp.mean());
            }
            String name = values.word(JobVocabulary.FILM_MATERIALS.id());
            Path file = name == null ? null : path(JobVocabulary.FILM_MATERIALS, name);
            MaterialLibrary library = file == null || name == null ? files.builtIn() : library(file, name);
            NamedMaterials named = new NamedMaterials(
                    named(library, JobVocabulary.FILM_MATERIAL, MaterialKind.FILM),
                    named(library, JobVocabulary.FILM_SOLVENT, MaterialKind.SOLVENT),
                    named(library, JobVocabulary.STAMP_MATERIAL, MaterialKind.STAMP),
                    named(library, JobVocabulary.COATING, MaterialKind.COATING),
                    named(library, JobVocabulary.SUBSTRATE, MaterialKind.SUBSTRATE));
            JobCompletion.Completed completed =
                    JobCompletion.complete(new ValueSet(numbers, values.words(), values.tables(), doubtful), named);
            completed.problems().stream().map(places::placed).forEach(problems::add);
            return new Resolution(
                    completed.values(),
                    library,
                    file == null || name == null ? null : new Job.MaterialFile(file, name),
                    named,
                    map,
                    lamp);
        }

        private List<String> filmsGiven() {
            return List.of(
                            CommonParameters.FILM_THICKNESS.id(),
                            FilmThickness.SPIN_SPEED.id(),
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
                    if (values.sets(key.id())) {
                        doubtful.add(CommonParameters.FILM_THICKNESS.id());
                    }
                    continue;
                }
                if (given.indexOf(key.id()) > 0) {
                    problems.add(
                            values.mark(key.id()),
                            "film.thickness-twice",
                            key.id(),
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
                if (map == null) {
                    doubtful.add(CommonParameters.FILM_THICKNESS.id());
                }
            }
            if (checkMapLimits(
                            TileFields.FILM_COATED,
                            "the film",
                            List.of(JobVocabulary.THICKNESS_MAP, JobVocabulary.DROP_MAP))
                    && given.isEmpty()) {
                doubtful.add(CommonParameters.FILM_THICKNESS.id());
            }
            return map;
        }

        /** Returns the lamp where the job gives it in a file. */
        private @Nullable LampMap lampMap() {
            JobKey.Text key = JobVocabulary.LAMP_MAP;
            checkMapLimits(TileFields.LAMP_IRRADIANCE, "the lamp", List.of(key));
            String name = values.word(key.id());
            if (!values.sets(key.id())) {
                return null;
            }
            OTHER_LAMPS.stream()
                    .filter(values::sets)
                    .findFirst()
                    .ifPresent(other -> problems.add(
                            values.mark(key.id()),
                            "process.lamp-twice",
                            key.id(),
                            key.id() + " is given beside " + other + ", and a place has one irradiance",
                            "leave out one of the two"));
            if (!values.sets(ProcessParameters.EXPOSURE.id())) {
                problems.add(
                        values.mark(key.id()),
                        "process.lamp-exposure",
                        key.id(),
                        "a lamp that was measured needs " + ProcessParameters.EXPOSURE.id()
                                + ": how long its darkest place needs is not known before there are tiles",
                        "give it in s; " + CURE_INDEX + " then tells whether every place gets its dose");
                doubtful.add(ProcessParameters.EXPOSURE.id());
            }
            Path file = name == null ? null : path(key, name);
            JobFiles.Lamp read = file == null || name == null ? null : files.lamp(file, name);
            if (read != null) {
                problems.addAll(read.problems());
            }
            LampMap map = read == null ? null : read.map();
            if (map == null) {
                doubtful.add(ProcessParameters.IRRADIANCE.id());
            }
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

        /** Finds a limit on what a map would tell, where there is none; returns whether there is such a limit. */
        private boolean checkMapLimits(FieldName field, String of, List<JobKey.Text> keys) {
            Optional<Limit> limited = values.limits().stream()
                    .filter(limit -> limit.fieldId().equals(field.id()))
                    .findFirst();
            if (limited.isEmpty() || keys.stream().anyMatch(key -> values.sets(key.id()))) {
                return false;
            }
            problems.add(new Problem(
                    "job.limit-unreached",
                    limited.get().source(),
                    JobVocabulary.LIMITS + "." + field.id(),
                    "the limit on " + field.id() + " needs a map of " + of,
                    "set " + keys.stream().map(JobKey::id).collect(Collectors.joining(" or "))
                            + ", or drop the limit"));
            return true;
        }

        private @Nullable Path path(JobKey.Text key, String name) {
            try {
                return text.beside(name);
            } catch (InvalidPathException e) {
                problems.add(values.mark(key.id()), "job.value", key.id(), "\"" + name + "\" is not a file name", "");
                return null;
            }
        }

        private MaterialLibrary library(Path file, String name) {
            JobFiles.Materials read = files.materials(file);
            if (!read.unreadable().isEmpty()) {
                problems.add(
                        values.mark(JobVocabulary.FILM_MATERIALS.id()),
                        "job.materials-unreadable",
                        JobVocabulary.FILM_MATERIALS.id(),
                        "the materials " + name + " cannot be read: " + read.unreadable(),
                        "film.materials is relative to the job, a text in UTF-8");
            }
            problems.addAll(read.problems());
            wholeLibrary = read.unreadable().isEmpty() && read.problems().isEmpty();
            return read.library();
        }

        private Optional<Material> named(MaterialLibrary library, JobKey.Text key, MaterialKind kind) {
            String name = values.word(key.id());
            if (name == null) {
                if (values.sets(key.id())) {
                    leaveOpen(kind);
                }
                return Optional.empty();
            }
            try {
                return Optional.of(library.get(kind, name));
            } catch (InputException e) {
                e.problems().stream()
                        .filter(problem -> wholeLibrary)
                        .forEach(problem -> problems.add(
                                values.mark(key.id()),
                                problem.code(),
                                key.id(),
                                key.id() + ": " + problem.message(),
                                problem.fix()));
                leaveOpen(kind);
                return Optional.empty();
            }
        }

        /** What a material that is not known might have answered is not known. */
        private void leaveOpen(MaterialKind kind) {
            MaterialAnswers.answeredBy(kind).stream()
                    .filter(id -> !values.sets(id))
                    .forEach(doubtful::add);
        }
    }

    /** Returns these values with another film thickness, m. */
    Resolution withThickness(double metres) {
        Map<String, Double> changed = new HashMap<>(values.numbers());
        changed.put(CommonParameters.FILM_THICKNESS.id(), metres);
        return new Resolution(
                new ValueSet(changed, values.words(), values.tables(), values.doubtful()),
                library,
                materials,
                named,
                filmMap,
                lampMap);
    }

    /** Returns whether a key has no value, and nothing is there that could be meant for one. */
    boolean lacks(String id) {
        return !values.numbers().containsKey(id)
                && !values.words().containsKey(id)
                && !values.tables().containsKey(id)
                && !values.doubtful().contains(id);
    }

    @Nullable
    Double number(String id) {
        return values.numbers().get(id);
    }

    /** Returns a word, or the first of a choice's options when it is not set. */
    String word(Parameter.Choice choice) {
        return values.words().getOrDefault(choice.id(), choice.options().get(0));
    }
}
