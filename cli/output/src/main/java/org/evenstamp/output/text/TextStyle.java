package org.evenstamp.output.text;

/** The few ways in which a text on a terminal may stand out. */
public enum TextStyle {
    /** A heading. */
    STRONG("1"),
    /** Something that is well. */
    GOOD("32"),
    /** Something that is not. */
    BAD("31"),
    /** Something to read with care. */
    CARE("33");

    private final String code;

    TextStyle(String code) {
        this.code = code;
    }

    /** Returns a text in this style where there are colours, or as it is. */
    public String on(String text, boolean colour) {
        return colour ? "\u001b[" + code + "m" + text + "\u001b[0m" : text;
    }
}
