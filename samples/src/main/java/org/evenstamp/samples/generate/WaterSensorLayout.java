package org.evenstamp.samples.generate;

import org.evenstamp.geometry.layout.PolygonSink;
import org.evenstamp.geometry.layout.Texture.Kind;
import org.evenstamp.geometry.layout.Texture.Lattice;
import org.evenstamp.geometry.layout.Traits;

/**
 * The sample: a stamp for an invented chip that senses water quality, 12 mm x 12 mm about the origin. What is drawn is
 * cavity; the rest is land.
 *
 * <p>From below: contact pads and their wires, with reference fields between the wires; six pairs of interdigitated
 * electrodes; a fluid channel with two reservoirs, deeper than the rest; three rows of eight optical fields (fine gratings and
 * pillar lattices as textures, coarser ones drawn, hole arrays as repeats); two resistance thermometers with their pads; a guard
 * ring; an almost empty margin with alignment marks. No polygons overlap but wires at their ends, with what they connect.
 *
 * @param seed settles what is left to chance: occupied sites of the random fields, disc sizes, wire widths and jogs
 */
public record WaterSensorLayout(long seed) {
    /** The seed of the layout that the project ships. */
    public static final long SHIPPED_SEED = 12;

    /** Depth of the channel, um. */
    static final double CHANNEL_DEPTH = 0.23;

    // Electrode cells: six columns, below the channel.
    private static final int CELLS = 6;
    private static final double CELL_PITCH = 1650;
    private static final double CELL_BOTTOM = -2300;
    private static final double CELL_TOP = -1100;
    private static final double CELL_HALF_WIDTH = 500;
    private static final double PAD_Y = 4850;
    private static final double WIRE_OFFSET = 412.5;

    /** Hands every polygon to the sink. */
    public void draw(PolygonSink sink) {
        Dice dice = new Dice(seed);
        Pen pen = new Pen(sink, Traits.NONE);
        margin(pen);
        fluidics(pen.dipped(Patterns.depth(CHANNEL_DEPTH)), pen);
        for (int cell = 0; cell < CELLS; cell++) {
            electrodes(pen, dice, cell);
        }
        references(pen);
        thermometer(pen, dice, OpticalFields.x(0));
        thermometer(pen, dice, OpticalFields.x(OpticalFields.COLUMNS - 1));
        guardRing(pen);
        new OpticalFields(pen, dice).draw();
    }

    private static double cellX(int cell) {
        return (cell - (CELLS - 1) / 2.0) * CELL_PITCH;
    }

    /** Alignment marks in the corners, ticks at the middles of the sides, and nothing else. */
    private static void margin(Pen pen) {
        for (int corner = 0; corner < 4; corner++) {
            double x = corner % 2 == 0 ? -5700 : 5700;
            double y = corner / 2 == 0 ? -5700 : 5700;
            pen.cross(x, y, 160, 16);
            pen.frame(x, y, 240, 208);
            pen.frame(x, y, 304, 288);
            pen.frame(x, y, 352, 344);
        }
        for (int tick = -10; tick <= 10; tick++) {
            double length = tick % 5 == 0 ? 80 : 40;
            for (int side = -1; side <= 1; side += 2) {
                pen.rectangle(tick * 20, side * 5700, 6, length);
                pen.rectangle(side * 5700, tick * 20, length, 6);
            }
        }
    }

    /** Two reservoirs with posts, joined by a channel that winds to mix, and cell traps along it. */
    private static void fluidics(Pen deep, Pen shallow) {
        double reservoir = 480;
        for (int side = -1; side <= 1; side += 2) {
            double centre = side * 4650;
            deep.begin();
            deep.circle(centre, 0, reservoir, 96);
            for (int row = -3; row <= 3; row++) {
                for (int column = -3; column <= 3; column++) {
                    double x = column * 120 + (row % 2) * 60.0;
                    double y = row * 104;
                    if (Math.sqrt(x * x + y * y) < reservoir - 60) {
                        deep.circle(centre + x, y, 22, 20);
                    }
                }
            }
            deep.end();
        }
        int turns = 16;
        double pitch = 300;
        double[] path = new double[2 * (2 * turns + 4)];
        int n = 0;
        path[n++] = -4200;
        path[n++] = 0;
        double x = -turns * pitch / 2;
        path[n++] = x;
        path[n++] = 0;
        for (int turn = 0; turn < turns; turn++) {
            double y = turn % 2 == 0 ? 340 : -340;
            path[n++] = x;
            path[n++] = y;
            x += pitch;
            path[n++] = x;
            path[n++] = y;
        }
        path[n++] = x;
        path[n++] = 0;
        path[n++] = 4200;
        path[n++] = 0;
        deep.path(100, path);
        for (int side = -1; side <= 1; side += 2) {
            for (int row = -1; row <= 1; row += 2) {
                for (int i = 0; i < 24; i++) {
                    for (int k = 0; k < 4; k++) {
                        shallow.cup(side * (2650 + 60 * i), row * (140 + 60 * k), 30, row);
                    }
                }
            }
        }
    }

    /** Two combs that mesh, their wires and their pads. */
    private static void electrodes(Pen pen, Dice dice, int cell) {
        double[] fingerWidths = {3, 5, 8, 8, 5, 12};
        double[] gaps = {3, 5, 4, 8, 3, 8};
        double width = fingerWidths[cell];
        double gap = gaps[cell];
        double centre = cellX(cell);
        comb(pen, centre, 1, width, gap);
        comb(pen, centre, -1, width, gap);
        for (int side = -1; side <= 1; side += 2) {
            double padSide = 300 + 50 * dice.below(7);
            double padX = centre + side * WIRE_OFFSET;
            pen.rectangle(padX, -PAD_Y, padSide, padSide);
            double wire = 10 + 10 * dice.below(6);
            double jog = dice.between(-70, 70);
            double y1 = dice.between(-4300, -3900);
            double y2 = dice.between(-3300, -2900);
            double spineX = centre + side * (CELL_HALF_WIDTH - 30);
            // Starts on the pad and ends on the comb's spine, overlapping both.
            pen.path(
                    wire,
                    padX,
                    -PAD_Y + padSide / 2 - 20,
                    padX,
                    y1, //
                    padX + jog,
                    y1 + Math.abs(jog),
                    padX + jog,
                    y2, //
                    spineX,
                    y2 + Math.abs(spineX - padX - jog),
                    spineX,
                    CELL_BOTTOM + 20);
        }
    }

    /** One polygon: a spine on the left (-1) or right (1) with every second finger of the cell. */
    private static void comb(Pen pen, double centre, int side, double width, double gap) {
        double spineOut = centre + side * CELL_HALF_WIDTH;
        double spineIn = centre + side * (CELL_HALF_WIDTH - 60);
        double tip = centre - side * (CELL_HALF_WIDTH - 80);
        double pitch = 2 * (width + gap);
        double first = CELL_BOTTOM + 20 + (side > 0 ? 0 : width + gap);
        int fingers = (int) Math.floor((CELL_TOP - 20 - width - first) / pitch) + 1;
        double[] xy = new double[2 * (4 * fingers + 4)];
        int n = 0;
        xy[n++] = spineOut;
        xy[n++] = CELL_TOP;
        xy[n++] = spineOut;
        xy[n++] = CELL_BOTTOM;
        xy[n++] = spineIn;
        xy[n++] = CELL_BOTTOM;
        for (int finger = 0; finger < fingers; finger++) {
            double y = first + finger * pitch;
            double[] corners = {spineIn, y, tip, y, tip, y + width, spineIn, y + width};
            System.arraycopy(corners, 0, xy, n, corners.length);
            n += corners.length;
        }
        xy[n++] = spineIn;
        xy[n] = CELL_TOP;
        pen.polygon(xy);
    }

    /** Fields in the corridors between the wires: some filled, some left empty. */
    private static void references(Pen pen) {
        double bottom = -4450;
        double top = -2650;
        double half = 250;
        for (int corridor = 0; corridor < 2 * CELLS - 1; corridor++) {
            double x = cellX(0) + corridor * CELL_PITCH / 2;
            switch (corridor) {
                case 0 -> pen.dipped(Patterns.lines(0.4, 0.2, 0)).box(x - half, bottom, x + half, top);
                case 1, 9 -> {
                    for (double y = bottom; y < top; y += 20) {
                        pen.box(x - half, y, x + half, y + 10);
                    }
                }
                case 2 ->
                    pen.dipped(Patterns.texture(Kind.HOLES, 0.5, 0.25, 0, Lattice.HEXAGONAL))
                            .box(x - half, bottom, x + half, top);
                case 3 -> pen.dipped(Patterns.array(20, 72, 25)).disc(x - half + 12.5, bottom + 12.5, 8, 24);
                case 5 -> {
                    // A density ladder: nine steps from 10 to 90 percent, each 160 um tall.
                    for (int step = 0; step < 9; step++) {
                        for (int line = 0; line < 50; line++) {
                            double left = x - half + 10 * line;
                            double y = bottom + 200 * step;
                            pen.box(left, y, left + step + 1, y + 160);
                        }
                    }
                }
                case 7 -> pen.dipped(Patterns.array(62, 225, 8)).rectangle(x - half + 4, bottom + 4, 4, 4);
                case 8 ->
                    pen.dipped(Patterns.texture(Kind.PILLARS, 0.6, 0.36, 30, Lattice.HEXAGONAL))
                            .box(x - half, bottom, x + half, top);
                case 10 -> pen.dipped(Patterns.lines(0.6, 0.3, 90)).box(x - half, bottom, x + half, top);
                default -> {} // left as land
            }
        }
    }

    /** A meander in an optical field's place, wired to two pads above it. */
    private static void thermometer(Pen pen, Dice dice, double x) {
        double bottom = OpticalFields.y(2) - OpticalFields.SIDE / 2;
        double top = OpticalFields.y(2) + OpticalFields.SIDE / 2;
        double width = 8 + 4 * dice.below(3);
        int legs = 32;
        double pitch = 30;
        double left = x - (legs - 1) * pitch / 2;
        double[] path = new double[4 * legs];
        int n = 0;
        for (int leg = 0; leg < legs; leg++) {
            boolean up = leg % 2 == 1;
            path[n++] = left + leg * pitch;
            path[n++] = leg == 0 ? top + 40 : up ? bottom : top;
            path[n++] = left + leg * pitch;
            path[n++] = leg == legs - 1 ? top + 40 : up ? top : bottom;
        }
        pen.path(width, path);
        for (int side = -1; side <= 1; side += 2) {
            double padX = x + side * 330;
            pen.rectangle(padX, PAD_Y, 400, 400);
            double end = x + side * (legs - 1) * pitch / 2;
            pen.path(30, padX, PAD_Y - 190, padX, top + 150, end, top + 150 - Math.abs(end - padX), end, top + 20);
        }
    }

    /** A wire round the chip, from one pad to the other. */
    private static void guardRing(Pen pen) {
        double side = 5350;
        pen.rectangle(-700, PAD_Y, 500, 500);
        pen.rectangle(700, PAD_Y, 600, 500);
        pen.path(
                40,
                -700,
                PAD_Y + 230,
                -700,
                side,
                -side,
                side,
                -side,
                -side,
                side,
                -side,
                side,
                side, //
                700,
                side,
                700,
                PAD_Y + 230);
        // Two spare pads that nothing is wired to.
        pen.rectangle(-2000, PAD_Y, 300, 300);
        pen.rectangle(2000, PAD_Y, 350, 350);
    }
}
