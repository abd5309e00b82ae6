package org.evenstamp.geometry.clean;

/** What can be wrong with a drawn feature whose syntax is right. */
public enum Defect {
    /** No rings at all. */
    EMPTY("layout.empty-geometry", "geometry without a point"),
    /** A ring whose last point is not its first. */
    OPEN_RING("layout.open-ring", "ring whose last point differs from its first"),
    /** A coordinate that is not a number, or infinite. */
    NOT_FINITE("layout.not-finite", "coordinate that is not a finite number"),
    /** A coordinate further than {@link RingCheck#FARTHEST_METRES} from the origin. */
    OUT_OF_RANGE("layout.out-of-range", "coordinate more than 1e6 m from the origin"),
    /** A ring with fewer than three different points. */
    FEW_VERTICES("layout.few-vertices", "ring with fewer than three different points"),
    /** A ring that encloses nothing. */
    ZERO_AREA("layout.zero-area", "ring that encloses no area"),
    /** A ring that crosses, touches or retraces itself. */
    SELF_CROSSING("layout.self-crossing", "ring that crosses or touches itself"),
    /** A polygon that was to be mended and crosses itself more than {@link RingRepair#MOST_CROSSINGS} times. */
    TANGLED(
            "layout.tangled",
            "tangle that crosses itself more than " + RingRepair.MOST_CROSSINGS + " times, too often to mend"),
    /** A hole that is not inside the outline. */
    HOLE_OUTSIDE("layout.hole-outside", "hole outside its outline"),
    /** Two rings of a polygon that cross, run along each other, or of which one hole lies in the other. */
    RINGS_OVERLAP("layout.rings-overlap", "holes or outline that cross or cover each other"),
    /** A geometry of a kind that encloses area but is not made of straight edges in the plane. */
    UNSUPPORTED_KIND("layout.unsupported-kind", "curved or spatial surface, which has to be drawn as polygons"),
    /** A property with a meaning for the layout has a value that cannot be. */
    PROPERTY("layout.property", "property with an impossible value"),
    /** The property {@code role} holds none of the words for a role. */
    ROLE("layout.role", "role that there is none of");

    private final String code;
    private final String meaning;

    Defect(String code, String meaning) {
        this.code = code;
        this.meaning = meaning;
    }

    /** Returns the catalogued code. */
    public String code() {
        return code;
    }

    /** Returns a few words for a person. */
    public String meaning() {
        return meaning;
    }
}
