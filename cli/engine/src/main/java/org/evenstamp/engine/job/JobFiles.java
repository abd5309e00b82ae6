package org.evenstamp.engine.job;

import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.concurrent.ConcurrentHashMap;
import org.evenstamp.analysis.material.MaterialLibrary;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.evenstamp.shared.problem.Problems;
import org.jspecify.annotations.Nullable;

/**
 * What stands in the files that a job names, each read once however many jobs are made from the first. For use by several
 * threads.
 */
final class JobFiles {
    private final Map<Path, Materials> materials = new ConcurrentHashMap<>();
    private final Map<Named, Film> measured = new ConcurrentHashMap<>();
    private final Map<Named, Lamp> lamps = new ConcurrentHashMap<>();
    private final Map<Path, FilmMapReader.DropFile> drops = new ConcurrentHashMap<>();
    private final Map<NamedTiles, Tiles> tiles = new ConcurrentHashMap<>();
    private final Map<Path, Presence> layouts = new ConcurrentHashMap<>();

    /** The built-in materials, read when they are first asked for. */
    private static final class BuiltIn {
        static final MaterialLibrary LIBRARY = MaterialLibrary.standard();
    }

    /**
     * A file of materials.
     *
     * @param library the built-in materials and those of the file
     * @param unreadable why there are none of the file; empty when it could be read
     * @param problems what is wrong in it
     */
    record Materials(MaterialLibrary library, String unreadable, List<Problem> problems) {}

    /**
     * A file of a film.
     *
     * @param map the film; null when something is wrong with the file
     * @param problems what
     */
    record Film(@Nullable FilmMap map, List<Problem> problems) {}

    /**
     * A file of a lamp.
     *
     * @param map its light; null when something is wrong with the file
     * @param problems what
     */
    record Lamp(@Nullable LampMap map, List<Problem> problems) {}

    /** Whether there is a file of that name. */
    enum Presence {
        FILE,
        DIRECTORY,
        NOTHING
    }

    private record Named(Path file, String asWritten) {}

    MaterialLibrary builtIn() {
        return BuiltIn.LIBRARY;
    }

    Materials materials(Path file) {
        return materials.computeIfAbsent(file, JobFiles::readMaterials);
    }

    private static Materials readMaterials(Path file) {
        MaterialLibrary standard = BuiltIn.LIBRARY;
        try (Reader reader = TextFile.open(file)) {
            return new Materials(standard.with(MaterialLibrary.read(reader, file.toString())), "", List.of());
        } catch (IOException e) {
            String why = e instanceof NoSuchFileException ? "there is no such file" : String.valueOf(e.getMessage());
            return new Materials(standard, why, List.of());
        } catch (InputException e) {
            return new Materials(standard, "", e.problems());
        }
    }

    /** Returns the film that was measured at points. */
    Film thickness(Path file, String asWritten) {
        return measured.computeIfAbsent(new Named(file, asWritten), named -> {
            Problems problems = new Problems();
            return new Film(FilmMapReader.thickness(file, asWritten, problems), problems.all());
        });
    }

    /** Returns the lamp that was measured at points. */
    Lamp lamp(Path file, String asWritten) {
        return lamps.computeIfAbsent(new Named(file, asWritten), named -> {
            Problems problems = new Problems();
            return new Lamp(FilmMapReader.lamp(file, asWritten, problems), problems.all());
        });
    }

    /** Returns the film that drops make, of which a share evaporates. */
    Film drops(Path file, String asWritten, OptionalDouble dropCubicMetres, double evaporation) {
        FilmMapReader.DropFile read = drops.computeIfAbsent(file, FilmMapReader::readDrops);
        Problems problems = new Problems();
        return new Film(FilmMapReader.drops(read, asWritten, dropCubicMetres, evaporation, problems), problems.all());
    }

    /**
     * A table of tiles.
     *
     * @param table the tiles; null when something is wrong with the file
     * @param problems what
     */
    record Tiles(@Nullable TileTable table, List<Problem> problems) {}

    private record NamedTiles(
            Path file, String asWritten, @Nullable Double depthMetres) {}

    /** Returns the tiles of a table, whose cavities have a depth where it says none. */
    Tiles tiles(Path file, String asWritten, @Nullable Double depthMetres) {
        return tiles.computeIfAbsent(new NamedTiles(file, asWritten, depthMetres), named -> {
            Problems problems = new Problems();
            return new Tiles(TileTableReader.read(file, asWritten, depthMetres, problems), problems.all());
        });
    }

    Presence layout(Path file) {
        return layouts.computeIfAbsent(
                file,
                path -> Files.isDirectory(path)
                        ? Presence.DIRECTORY
                        : Files.exists(path) ? Presence.FILE : Presence.NOTHING);
    }
}
