package org.evenstamp.samples.generate;

import org.evenstamp.geometry.layout.Role;
import org.evenstamp.geometry.layout.Texture;
import org.evenstamp.geometry.layout.Texture.Kind;
import org.evenstamp.geometry.layout.Texture.Lattice;
import org.evenstamp.geometry.layout.Traits;

/**
 * The optical fields of the sample, eight columns and three rows above its channel, each with its number. Micrometres.
 *
 * @param pen draws them
 * @param dice settle what is left to chance
 */
record OpticalFields(Pen pen, Dice dice) {
    static final int COLUMNS = 8;

    /** Side of a field. */
    static final double SIDE = 950;

    private static final int ROWS = 3;
    private static final double PITCH_X = 1225;
    private static final double PITCH_Y = 1200;
    private static final double BOTTOM_Y = 1250;

    /** Returns x of the middle of a column. */
    static double x(int column) {
        return (column - (COLUMNS - 1) / 2.0) * PITCH_X;
    }

    /** Returns y of the middle of a row. */
    static double y(int row) {
        return BOTTOM_Y + row * PITCH_Y;
    }

    void draw() {
        opticsTop();
        opticsMiddle();
        opticsBottom();
        for (int row = 0; row < ROWS; row++) {
            for (int column = 0; column < COLUMNS; column++) {
                double left = x(column) - SIDE / 2;
                label(left, y(row) - SIDE / 2 - 120, 10 * (row + 1) + column);
            }
        }
    }

    private static void field(Pen pen, int column, int row) {
        pen.rectangle(x(column), y(row), SIDE, SIDE);
    }

    /** Fine gratings as textures, and two fields of wells whose size is left to chance. */
    private void opticsTop() {
        field(pen.dipped(Patterns.lines(0.3, 0.12, 0)), 1, 2);
        field(pen.dipped(Patterns.lines(0.4, 0.2, 90)), 2, 2);
        wells(3, 2);
        wells(4, 2);
        field(pen.dipped(Patterns.lines(0.5, 0.35, 0)), 5, 2);
        Texture deepGrating = Patterns.pattern(Kind.LINES, 0.6, 0.36, 45, Lattice.SQUARE);
        pen.dipped(new Traits(WaterSensorLayout.CHANNEL_DEPTH * Patterns.MICROMETRE, Role.CAVITY, null, deepGrating))
                .disc(x(6), y(2), SIDE / 2, 64);
    }

    /** Random codes at the ends; drawn gratings, and pillars and holes as textures, between. */
    private void opticsMiddle() {
        code(0, 1, 0.5, 0.5);
        grating(1, 1, 2, 2);
        grating(2, 1, 3, 4);
        field(pen.dipped(Patterns.texture(Kind.PILLARS, 0.5, 0.25, 0, Lattice.HEXAGONAL)), 3, 1);
        field(pen.dipped(Patterns.texture(Kind.HOLES, 0.6, 0.3, 0, Lattice.SQUARE)), 4, 1);
        grating(5, 1, 5, 5);
        chirp(6, 1);
        code(7, 1, 0.1, 0.9);
    }

    /** Zone plates, slots and arrays. */
    private void opticsBottom() {
        traps(0, 0);
        zonePlate(1, 0);
        pen.dipped(Patterns.array(118, 118, 8)).disc(x(2) - 117 * 4, y(0) - 117 * 4, 2.5, 24);
        slots(3, 0, 3);
        slots(4, 0, 5);
        pen.dipped(Patterns.array(59, 59, 16)).cross(x(5) - 58 * 8, y(0) - 58 * 8, 12, 4);
        zonePlate(6, 0);
        traps(7, 0);
    }

    private void grating(int column, int row, double line, double space) {
        double left = x(column) - SIDE / 2;
        double bottom = y(row) - SIDE / 2;
        for (double x = 0; x + line <= SIDE; x += line + space) {
            pen.box(left + x, bottom, left + x + line, bottom + SIDE);
        }
    }

    /** Lines and spaces that widen from 2 um to 10 um. */
    private void chirp(int column, int row) {
        double left = x(column) - SIDE / 2;
        double bottom = y(row) - SIDE / 2;
        double y = 0;
        double line = 2;
        while (y + line <= SIDE) {
            pen.box(left, bottom + y, left + SIDE, bottom + y + line);
            y += 2 * line;
            line = 2 + 8 * y / SIDE;
        }
    }

    /** Round wells of four sizes on a square lattice. */
    private void wells(int column, int row) {
        double[] radii = {3, 3.5, 4, 4.5};
        double pitch = 12;
        int count = (int) (SIDE / pitch);
        double first = -(count - 1) / 2.0 * pitch;
        for (int j = 0; j < count; j++) {
            for (int i = 0; i < count; i++) {
                double radius = radii[dice.below(radii.length)];
                pen.disc(x(column) + first + i * pitch, y(row) + first + j * pitch, radius, 16);
            }
        }
    }

    /** Square pixels on a lattice, each there with a chance that runs from one value on the left to another on the right. */
    private void code(int column, int row, double chanceLeft, double chanceRight) {
        double pitch = 6;
        int count = (int) (SIDE / pitch);
        double first = -(count - 1) / 2.0 * pitch;
        for (int j = 0; j < count; j++) {
            for (int i = 0; i < count; i++) {
                if (dice.fraction() < chanceLeft + (chanceRight - chanceLeft) * i / (count - 1)) {
                    pen.rectangle(x(column) + first + i * pitch, y(row) + first + j * pitch, 4, 4);
                }
            }
        }
    }

    private void slots(int column, int row, double width) {
        double pitchX = 9;
        double pitchY = 18;
        int columns = (int) (SIDE / pitchX);
        int rows = (int) (SIDE / pitchY);
        for (int j = 0; j < rows; j++) {
            for (int i = 0; i < columns; i++) {
                double x = x(column) + (i - (columns - 1) / 2.0) * pitchX;
                double y = y(row) + (j - (rows - 1) / 2.0) * pitchY;
                pen.rectangle(x, y, width, 13);
            }
        }
    }

    private void traps(int column, int row) {
        double pitch = 20;
        int count = (int) (SIDE / pitch);
        double first = -(count - 1) / 2.0 * pitch;
        for (int j = 0; j < count; j++) {
            for (int i = 0; i < count; i++) {
                int opening = dice.below(2) == 0 ? -1 : 1;
                pen.cup(x(column) + first + i * pitch, y(row) + first + j * pitch, 14, opening);
            }
        }
    }

    /** Every second zone between circles of radius sqrt(n) times the first; zones narrow outwards to 2 um. */
    private void zonePlate(int column, int row) {
        double outer = SIDE / 2;
        double narrowest = 2;
        double first = Math.sqrt(2 * outer * narrowest);
        pen.disc(x(column), y(row), first, 96);
        for (int zone = 2; first * Math.sqrt(zone + 1) <= outer; zone += 2) {
            double inside = first * Math.sqrt(zone);
            double outside = first * Math.sqrt(zone + 1);
            pen.annulus(x(column), y(row), outside, inside, 180);
        }
    }

    /** A two-digit number of seven-segment digits, each 36 um x 80 um. */
    private void label(double left, double bottom, int number) {
        digit(left, bottom, number / 10);
        digit(left + 56, bottom, number % 10);
    }

    private void digit(double x, double y, int digit) {
        // Bits from the lowest: top, upper right, lower right, bottom, lower left, upper left, middle.
        int[] segments = {0x3f, 0x06, 0x5b, 0x4f, 0x66, 0x6d, 0x7d, 0x07, 0x7f, 0x6f};
        double[][] boxes = {
            {8, 74, 28, 80},
            {30, 42, 36, 72},
            {30, 8, 36, 38},
            {8, 0, 28, 6},
            {0, 8, 6, 38},
            {0, 42, 6, 72},
            {8, 37, 28, 43}
        };
        for (int segment = 0; segment < boxes.length; segment++) {
            if ((segments[digit] >> segment & 1) == 1) {
                double[] box = boxes[segment];
                pen.box(x + box[0], y + box[1], x + box[2], y + box[3]);
            }
        }
    }
}
