package org.evenstamp.analysis.rheology;

/**
 * A result that should be read with care, to be passed on to the user.
 *
 * @param code catalogued short name, dotted lower-case words
 * @param message what it is, with number, unit and the range that works
 */
public record Caution(String code, String message) {}
