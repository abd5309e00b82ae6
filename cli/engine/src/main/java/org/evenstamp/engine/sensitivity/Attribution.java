package org.evenstamp.engine.sensitivity;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenstamp.analysis.film.LayerSensitivity;
import org.evenstamp.engine.sensitivity.SensitivityAnswer.Share;
import org.evenstamp.shared.field.Field;
import org.evenstamp.shared.field.FieldSet;
import org.evenstamp.shared.field.NamedRegion;
import org.evenstamp.shared.field.TileFields;
import org.evenstamp.shared.grid.TileGrid;

/**
 * Who causes how much of a spread.
 *
 * <p>Where the layer answers in proportion to how the cavity volume of the tiles differs from its mean, a standard deviation is
 * the sum over tiles of its derivative times that difference (Euler's theorem on homogeneous functions). A tile's part of that
 * sum is its share; what the layer does out of proportion is the rest, told as such. Shares add up to 1 and may be negative.
 */
final class Attribution {
    private static final int MOST = 8;
    private static final double DENSITY_STEP = 0.15;
    private static final double DEPTH_STEP = 20e-9;
    private static final double SOME = 1e-9;

    private final TileGrid grid;
    private final FieldSet fields;
    private final double[] fraction;
    private final double[] volume;
    private final double[] part;

    private Attribution(FieldSet fields, double[] part, double[] volume, double[] fraction) {
        grid = fields.grid();
        this.fields = fields;
        this.part = part;
        this.volume = volume;
        this.fraction = fraction;
    }

    static List<Share> of(LayerSensitivity goal, FieldSet fields) {
        double[] volume = fields.links()
                .map(links -> links.volume().clone())
                .orElseGet(() -> fields.get(TileFields.CAVITY_VOLUME).toArray());
        double[] fraction = fields.links()
                .map(links -> links.fraction().clone())
                .orElseGet(() -> fields.get(TileFields.CAVITY_FRACTION).toArray());
        double[] slope = goal.byVolume();
        double mean = Arrays.stream(volume).average().orElse(0);
        double[] part = new double[volume.length];
        Arrays.setAll(part, i -> slope[i] * (volume[i] - mean) / goal.value());
        return new Attribution(fields, part, volume, fraction).shares(ofFilm(goal, fields));
    }

    /** Returns the share of a film that is not even. */
    private static double ofFilm(LayerSensitivity goal, FieldSet fields) {
        Optional<Field> film = fields.find(TileFields.FILM_COATED.id());
        if (film.isEmpty()) {
            return 0;
        }
        double[] coated = film.get().toArray();
        double mean = Arrays.stream(coated).average().orElse(0);
        double[] slope = goal.byThickness();
        double sum = 0;
        for (int i = 0; i < coated.length; i++) {
            sum += slope[i] * (coated[i] - mean) / goal.value();
        }
        return sum;
    }

    private List<Share> shares(double ofFilm) {
        List<Share> groups = groups();
        groups.sort(Comparator.comparingDouble((Share share) -> -Math.abs(share.share())));
        List<Share> told = new ArrayList<>(groups.subList(0, Math.min(MOST, groups.size())));
        double others = 0;
        double area = 0;
        for (Share share : groups.subList(told.size(), groups.size())) {
            others += share.share();
            area += share.areaShare();
        }
        if (groups.size() > told.size()) {
            told.add(new Share(groups.size() - MOST + " smaller groups of cavities", others, area));
        }
        double land = 0;
        double landTiles = 0;
        for (int i = 0; i < part.length; i++) {
            if (!hollow(i)) {
                land += part[i];
                landTiles++;
            }
        }
        if (landTiles > 0) {
            told.add(new Share("land without cavities", land, landTiles / part.length));
        }
        if (ofFilm != 0) {
            told.add(new Share("film that is not even", ofFilm, 1));
        }
        double sum = told.stream().mapToDouble(Share::share).sum();
        told.add(new Share("the rest, out of proportion: wedge, time of filling, menisci", 1 - sum, 0));
        return told;
    }

    private boolean hollow(int tile) {
        return fraction[tile] > SOME && volume[tile] > 0;
    }

    /** Returns patches of neighbouring tiles whose cavities are alike. */
    private List<Share> groups() {
        int[] group = new int[part.length];
        Arrays.fill(group, -1);
        List<Share> groups = new ArrayList<>();
        for (int start = 0; start < part.length; start++) {
            if (group[start] < 0 && hollow(start)) {
                groups.add(patch(start, group, groups.size()));
            }
        }
        return groups;
    }

    private Share patch(int start, int[] group, int number) {
        int columns = grid.columns();
        ArrayDeque<Integer> open = new ArrayDeque<>(List.of(start));
        List<Integer> members = new ArrayList<>();
        group[start] = number;
        while (!open.isEmpty()) {
            int i = open.remove();
            members.add(i);
            int column = grid.column(i);
            int[] next = {column > 0 ? i - 1 : -1, column + 1 < columns ? i + 1 : -1, i - columns, i + columns};
            for (int j : next) {
                if (j >= 0 && j < part.length && group[j] < 0 && hollow(j) && alike(start, j)) {
                    group[j] = number;
                    open.add(j);
                }
            }
        }
        return share(members);
    }

    private boolean alike(int a, int b) {
        return Math.abs(fraction[a] - fraction[b]) < DENSITY_STEP
                && Math.abs(volume[a] / fraction[a] - volume[b] / fraction[b]) < DEPTH_STEP;
    }

    private Share share(List<Integer> members) {
        double sum = 0;
        double cavity = 0;
        double held = 0;
        int left = Integer.MAX_VALUE;
        int right = 0;
        int low = Integer.MAX_VALUE;
        int high = 0;
        for (int i : members) {
            sum += part[i];
            cavity += fraction[i];
            held += volume[i];
            left = Math.min(left, grid.column(i));
            right = Math.max(right, grid.column(i) + 1);
            low = Math.min(low, grid.row(i));
            high = Math.max(high, grid.row(i) + 1);
        }
        double pitch = grid.pitchMetres() * 1e3;
        double x = grid.originXMetres() * 1e3;
        double y = grid.originYMetres() * 1e3;
        String words = String.format(
                Locale.ROOT,
                "cavities at x %.4g to %.4g mm, y %.4g to %.4g mm, %.0f %% of their tiles, %.0f nm deep%s",
                x + left * pitch,
                x + right * pitch,
                y + low * pitch,
                y + high * pitch,
                100 * cavity / members.size(),
                1e9 * held / cavity,
                region(members));
        return new Share(words, sum, members.size() / (double) part.length);
    }

    /** Names the region that most of a patch lies in, if there is one of a name of its own. */
    private String region(List<Integer> members) {
        return fields.regions().stream()
                .filter(region -> !region.isFeatures())
                .filter(region -> members.stream().mapToDouble(region::share).sum() > 0.5 * members.size())
                .map(NamedRegion::name)
                .findFirst()
                .map(name -> ", in " + name)
                .orElse("");
    }
}
