package org.evenstamp.output.text;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Text that may come from a file or a stranger, made fit for a terminal: one line, nothing that a terminal obeys or that turns the
 * order of what is read, and not longer than a person reads.
 */
public final class PlainText {
    private static final int LONGEST_QUOTE = 80;
    private static final int LONGEST_LINE = 1200;
    private static final Pattern QUOTE = Pattern.compile("\"([^\"]{" + (LONGEST_QUOTE + 1) + ",}+)\"");

    private PlainText() {}

    /** Returns the text on one line; what cannot be shown stands as its number, such as {@code \u001b}. */
    public static String of(String text) {
        StringBuilder plain = new StringBuilder(text.length());
        String line = text.strip();
        for (int i = 0; i < line.length(); ) {
            int c = line.codePointAt(i);
            int length = Character.charCount(c);
            if (c == '\n' || c == '\r') {
                while (i + length < line.length() && Character.isWhitespace(line.charAt(i + length))) {
                    length++;
                }
                plain.append(' ');
            } else if (obeyed(c)) {
                plain.append(String.format(Locale.ROOT, "\\u%04x", c));
            } else {
                plain.appendCodePoint(c);
            }
            i += length;
        }
        return plain.toString();
    }

    private static boolean obeyed(int c) {
        return switch (Character.getType(c)) {
            case Character.CONTROL, Character.SURROGATE, Character.LINE_SEPARATOR, Character.PARAGRAPH_SEPARATOR ->
                true;
            case Character.FORMAT -> c != 0x200d && c != 0x200c; // joiners belong to the writing of some languages
            default -> false;
        };
    }

    /** Returns the text on one line, what stands between double quotes and the line itself cut where they are long. */
    public static String cut(String text) {
        Matcher quotes = QUOTE.matcher(of(text));
        String line = quotes.replaceAll(quote -> Matcher.quoteReplacement(
                "\"" + head(quote.group(1), LONGEST_QUOTE).strip() + "\" ("
                        + quote.group(1).length() + " characters)"));
        if (line.length() <= LONGEST_LINE) {
            return line;
        }
        int half = LONGEST_LINE / 2;
        return head(line, half) + line.substring(line.offsetByCodePoints(line.length(), -half));
    }

    private static String head(String text, int length) {
        int end = Character.isHighSurrogate(text.charAt(length - 1)) ? length - 1 : length;
        return text.substring(0, end) + " ... ";
    }
}
