package org.evenstamp.geometry.measure;

import java.util.Arrays;

/**
 * Straight stretches of wall, the drawn ground on their left, and which of them are near a place. One a thread.
 *
 * <p>Walls face each other where their directions are nearly opposite, and a corner faces what is opposite to a direction between
 * those of its two walls. So for every stretch the directions of it and its first corner are known as bits, one for each of 32
 * sectors of the circle, and for every cell of the raster those of all in it: most stretches have nothing near that could face them.
 */
public final class Stretches {
    private static final int MOST_CELLS = 1 << 16;
    private static final double ROUNDING = 1e-9;
    /** A coordinate of a packed box, at the most. */
    private static final int MOST_PLACE = (1 << 15) - 1;
    /** One bit above each of the four coordinates of a packed box. */
    private static final long GUARDS = 0x8000_8000_8000_8000L;
    /** Sectors in a unit of what {@link #heading} returns; opposite directions are 16 sectors apart. */
    private static final int SECTORS = 8;
    /** So many sectors on both sides hold all directions within 45 degrees, the widest of which are 4.7 apart. */
    private static final int FACING_SECTORS = 5;
    /** Far wider than what {@link #corner} allows for rounding. */
    private static final double SECTOR_SLACK = 1e-6;

    static final int PER = 8;
    static final int UX = 4;
    static final int UY = 5;
    private static final int LENGTH = 6;
    /** Place of the turn: positive where the corner at the first end turns left, so that it juts out to the right. */
    static final int TURN = 7;

    int size;
    /** Of every stretch side by side: both ends, its direction, its length and the turn at its first end. */
    double[] data = new double[PER * 64];

    private double[] beforeX = new double[64];
    private double[] beforeY = new double[64];
    /** Sectors of the directions from that of the stretch before to its own. */
    private int[] sweep = new int[64];
    /** Sectors of the directions that it, or its first corner, could face. */
    private int[] faced = new int[64];

    private double lastHeading;
    /** Whether all of it lies in the window. */
    boolean[] whole = new boolean[64];

    int[] from = new int[64];
    int[] to = new int[64];
    long[] polygon = new long[64];
    boolean[] cavityInside = new boolean[64];

    /** Of the polygon that the next stretches belong to: its number and whether what lies inside it is a cavity. */
    private long owner;

    private boolean cavity;

    // A raster of square cells, each with the stretches whose boxes meet it.
    private int across;
    private int up;
    private double left;
    private double low;
    private double perCell;
    private double perPlace;
    private int[] start = new int[1];
    /** Sectors of all that meets a cell. */
    private int[] sectors = new int[1];

    private int[] members = new int[64];
    /** The box of every stretch, packed. */
    private long[] boxes = new long[64];
    /** The box of every member, in the order in which they are looked at. */
    private long[] memberBoxes = new long[64];

    private int[] seen = new int[0];
    private int round;
    int[] near = new int[64];
    int nearCount;

    /**
     * Begins a polygon.
     *
     * @param number tells it from others: between walls of different polygons there is no inside
     * @param cavityInside whether what was drawn is a cavity, else land
     */
    public void begin(long number, boolean cavityInside) {
        owner = number;
        cavity = cavityInside;
    }

    /** Forgets all stretches. */
    public void clear() {
        size = 0;
    }

    /** Returns how many there are. */
    public int size() {
        return size;
    }

    /**
     * Adds the stretch from one vertex to the next.
     *
     * @param px vertex before its first
     * @param py vertex before its first
     * @param ax its first end
     * @param ay its first end
     * @param bx its other end
     * @param by its other end
     * @param first number of the vertex at its first end, the same for the stretch that ends there
     * @param last number of the vertex at its other end
     */
    public void add(double px, double py, double ax, double ay, double bx, double by, int first, int last) {
        double dx = bx - ax;
        double dy = by - ay;
        double along = Math.sqrt(dx * dx + dy * dy);
        if (!(along > 0)) {
            return;
        }
        if (size == from.length) {
            grow();
        }
        int at = PER * size;
        data[at] = ax;
        data[at + 1] = ay;
        data[at + 2] = bx;
        data[at + 3] = by;
        data[at + UX] = dx / along;
        data[at + UY] = dy / along;
        data[at + LENGTH] = along;
        data[at + TURN] = (ax - px) * dy - (ay - py) * dx;
        turnInto(
                ax - px,
                ay - py,
                dx,
                dy,
                data[at + TURN],
                size > 0 && to[size - 1] == first && polygon[size - 1] == owner);
        beforeX[size] = ax - px;
        beforeY[size] = ay - py;
        from[size] = first;
        polygon[size] = owner;
        cavityInside[size] = cavity;
        to[size++] = last;
    }

    /** Notes the directions between that of the stretch before and its own, as the corner turns, and those opposite. */
    private void turnInto(double beforeX, double beforeY, double dx, double dy, double turn, boolean follows) {
        double own = heading(dx, dy);
        int directions = between(own, own);
        if (turn != 0) {
            double before = follows ? lastHeading : heading(beforeX, beforeY);
            directions |= turn > 0 ? between(before, own) : between(own, before);
        }
        lastHeading = own;
        sweep[size] = directions;
        int wide = (2 << (2 * FACING_SECTORS)) - 1;
        int facing = Integer.rotateLeft(wide, (int) (SECTORS * own) - FACING_SECTORS);
        faced[size] = Integer.rotateLeft(facing | directions, 16);
    }

    /** Grows with the angle of a direction, by 1 in every quarter turn, from 0 to 4. */
    private static double heading(double x, double y) {
        double half = 1 - x / (Math.abs(x) + Math.abs(y));
        return y < 0 ? 4 - half : half;
    }

    /** Sectors from one heading to another, turning left. */
    private static int between(double from, double to) {
        int first = (int) Math.floor(SECTORS * (from - SECTOR_SLACK));
        int last = (int) Math.floor(SECTORS * (to + SECTOR_SLACK));
        return Integer.rotateLeft((2 << ((last - first) & 31)) - 1, first);
    }

    private void grow() {
        int room = 2 * size;
        data = Arrays.copyOf(data, PER * room);
        whole = new boolean[room];
        sweep = Arrays.copyOf(sweep, room);
        faced = Arrays.copyOf(faced, room);
        boxes = new long[room];
        beforeX = Arrays.copyOf(beforeX, room);
        beforeY = Arrays.copyOf(beforeY, room);
        from = Arrays.copyOf(from, room);
        to = Arrays.copyOf(to, room);
        polygon = Arrays.copyOf(polygon, room);
        cavityInside = Arrays.copyOf(cavityInside, room);
    }

    double length(int i) {
        return data[PER * i + LENGTH];
    }

    /** Finds out which stretches lie in the window as a whole. */
    void findWhole(double[] window) {
        for (int i = 0; i < size; i++) {
            int at = PER * i;
            whole[i] = isIn(data[at], data[at + 1], window) && isIn(data[at + 2], data[at + 3], window);
        }
    }

    private static boolean isIn(double x, double y, double[] window) {
        return x >= window[0] && x <= window[2] && y >= window[1] && y <= window[3];
    }

    /** Whether the corner at the first end is the nearest point of its surroundings for what lies in this direction. */
    boolean corner(int i, double dx, double dy) {
        double slack = ROUNDING * (Math.abs(dx) + Math.abs(dy));
        double before = Math.abs(beforeX[i]) + Math.abs(beforeY[i]);
        return dx * data[PER * i + UX] + dy * data[PER * i + UY] <= slack
                && dx * beforeX[i] + dy * beforeY[i] >= -slack * before;
    }

    /** Makes it possible to ask what is near a place within a window. */
    void index(double[] window, double reach) {
        double width = window[2] - window[0] + 2 * reach;
        double height = window[3] - window[1] + 2 * reach;
        double cells = Math.min(Math.max(1, 2.0 * size), MOST_CELLS);
        double side = Math.sqrt(width * height / cells);
        across = (int) Math.max(1, Math.min(MOST_CELLS, Math.ceil(width / side)));
        up = (int) Math.max(1, Math.min(MOST_CELLS, Math.ceil(height / side)));
        perCell = 1 / side;
        perPlace = MOST_PLACE / Math.max(width, height);
        left = window[0] - reach;
        low = window[1] - reach;
        int bins = across * up;
        if (start.length < bins + 1) {
            start = new int[bins + 1];
            sectors = new int[bins];
        }
        Arrays.fill(sectors, 0, bins, 0);
        if (seen.length < from.length) {
            seen = new int[from.length];
            near = new int[from.length];
            round = 0;
        }
        Arrays.fill(start, 0, bins + 1, 0);
        for (int i = 0; i < size; i++) {
            visit(i, true);
        }
        for (int bin = 0; bin < bins; bin++) {
            start[bin + 1] += start[bin];
        }
        if (members.length < start[bins]) {
            members = new int[2 * start[bins]];
            memberBoxes = new long[members.length];
        }
        for (int i = 0; i < size; i++) {
            visit(i, false);
        }
    }

    private void visit(int i, boolean count) {
        double x0 = Math.min(data[PER * i], data[PER * i + 2]);
        double y0 = Math.min(data[PER * i + 1], data[PER * i + 3]);
        double x1 = Math.max(data[PER * i], data[PER * i + 2]);
        double y1 = Math.max(data[PER * i + 1], data[PER * i + 3]);
        if (count) {
            boxes[i] = packed(x1, y1, x0, y0);
        }
        int column0 = column(x0);
        int column1 = column(x1);
        int row1 = row(y1);
        for (int row = row(y0); row <= row1; row++) {
            for (int column = column0; column <= column1; column++) {
                int bin = row * across + column;
                if (count) {
                    start[bin]++;
                    sectors[bin] |= sweep[i];
                } else {
                    int at = --start[bin];
                    members[at] = i;
                    memberBoxes[at] = boxes[i];
                }
            }
        }
    }

    /**
     * Packs the corners of a box, or those of one that is looked for the other way round. They meet where no coordinate of
     * the first is below that of the second; boxes apart by less than a place may meet too.
     */
    private long packed(double highX, double highY, double lowX, double lowY) {
        return place(highX - left)
                | place(highY - low) << 16
                | (MOST_PLACE - place(lowX - left)) << 32
                | (MOST_PLACE - place(lowY - low)) << 48;
    }

    private static boolean meets(long box, long wanted) {
        return (((box | GUARDS) - wanted) & GUARDS) == GUARDS;
    }

    private long place(double from) {
        return Math.max(0, Math.min(MOST_PLACE, (int) (from * perPlace)));
    }

    private int column(double x) {
        return Math.max(0, Math.min(across - 1, (int) ((x - left) * perCell)));
    }

    private int row(double y) {
        return Math.max(0, Math.min(up - 1, (int) ((y - low) * perCell)));
    }

    /** Lists all stretches as near. */
    void all() {
        if (near.length < size) {
            near = new int[from.length];
            seen = new int[from.length];
            round = 0;
        }
        for (int i = 0; i < size; i++) {
            near[i] = i;
        }
        nearCount = size;
    }

    /**
     * Lists the stretches, itself included, that one may have to be compared with: what lies in the rectangles on both
     * sides of it, and what its first corner, if it juts out, may be the nearest to.
     *
     * @param inside how far to look to the left
     * @param outside how far to look to the right
     * @return whether any of them may face it; otherwise they are not listed
     */
    boolean findNear(int i, double inside, double outside) {
        int at = PER * i;
        double x = data[at];
        double y = data[at + 1];
        double rightX = data[at + UY];
        double rightY = -data[at + UX];
        // What the rectangles add to the box of the stretch.
        double x0 = Math.min(0, Math.min(rightX * outside, -rightX * inside));
        double x1 = Math.max(0, Math.max(rightX * outside, -rightX * inside));
        double y0 = Math.min(0, Math.min(rightY * outside, -rightY * inside));
        double y1 = Math.max(0, Math.max(rightY * outside, -rightY * inside));
        x0 += Math.min(x, data[at + 2]);
        x1 += Math.max(x, data[at + 2]);
        y0 += Math.min(y, data[at + 3]);
        y1 += Math.max(y, data[at + 3]);
        if (data[at + TURN] < 0) {
            x0 = Math.min(x0, x - inside);
            x1 = Math.max(x1, x + inside);
            y0 = Math.min(y0, y - inside);
            y1 = Math.max(y1, y + inside);
        } else if (data[at + TURN] > 0) {
            // The sector between the squares to both walls lies within its two radii and its tangents' meeting.
            double before = Math.sqrt(beforeX[i] * beforeX[i] + beforeY[i] * beforeY[i]);
            double otherX = beforeY[i] / before;
            double otherY = -beforeX[i] / before;
            double cosine = rightX * otherX + rightY * otherY;
            double meeting = outside / (1 + Math.max(-0.5, cosine));
            double meetingX = meeting * (rightX + otherX);
            double meetingY = meeting * (rightY + otherY);
            if (cosine > -0.5) {
                x0 = Math.min(x0, x + Math.min(otherX * outside, meetingX));
                x1 = Math.max(x1, x + Math.max(otherX * outside, meetingX));
                y0 = Math.min(y0, y + Math.min(otherY * outside, meetingY));
                y1 = Math.max(y1, y + Math.max(otherY * outside, meetingY));
            } else {
                x0 = Math.min(x0, x - outside);
                x1 = Math.max(x1, x + outside);
                y0 = Math.min(y0, y - outside);
                y1 = Math.max(y1, y + outside);
            }
        }
        return collect(x0, y0, x1, y1, faced[i]);
    }

    private boolean collect(double x0, double y0, double x1, double y1, int facing) {
        int column0 = column(x0);
        int column1 = column(x1);
        int row0 = row(y0);
        int row1 = row(y1);
        int there = 0;
        long candidates = 0;
        for (int row = row0; row <= row1; row++) {
            for (int bin = row * across + column0; bin <= row * across + column1; bin++) {
                there |= sectors[bin];
            }
            candidates += start[row * across + column1 + 1] - start[row * across + column0];
        }
        if ((there & facing) == 0) {
            return false;
        }
        long wanted = packed(x0, y0, x1, y1);
        int count = 0;
        if (candidates > size) { // long walls, each in many cells
            for (int j = 0; j < size; j++) {
                if (meets(boxes[j], wanted)) {
                    near[count++] = j;
                }
            }
            nearCount = count;
            return true;
        }
        round++;
        for (int row = row0; row <= row1; row++) {
            int end = start[row * across + column1 + 1];
            for (int at = start[row * across + column0]; at < end; at++) {
                if (meets(memberBoxes[at], wanted)) {
                    int j = members[at];
                    if (seen[j] != round) {
                        seen[j] = round;
                        near[count++] = j;
                    }
                }
            }
        }
        nearCount = count;
        return true;
    }
}
