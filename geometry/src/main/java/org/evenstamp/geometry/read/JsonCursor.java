package org.evenstamp.geometry.read;

import java.nio.charset.StandardCharsets;

/** JSON (RFC 8259) under a cursor. Every method leaves the cursor behind what it read, without the blanks that follow. */
class JsonCursor extends ByteCursor {
    private static final int DEEPEST = 200;

    private int stringFrom;
    private int stringTo;
    private boolean stringPlain = true;

    JsonCursor(Chunk chunk) {
        super(chunk);
    }

    /** Passes over white space. */
    protected final void space() {
        if (bytes[at] <= ' ') {
            while (bytes[at] == ' ' || bytes[at] == '\n' || bytes[at] == '\r' || bytes[at] == '\t') {
                at++;
            }
        }
    }

    /** Passes over white space and one expected byte. */
    protected final void expect(char wanted) {
        if (bytes[at] != wanted) {
            space();
            if (bytes[at] != wanted) {
                throw syntax("expected '" + wanted + "' but found " + here(), mend());
            }
        }
        at++;
    }

    protected final String mend() {
        return at >= end ? "the file is cut off: copy or write it again" : "mend the JSON text there";
    }

    /**
     * Begins a list: passes its opening bracket.
     *
     * @return false when it closes at once
     */
    protected final boolean begin(char opening) {
        expect(opening);
        space();
        if (bytes[at] == opening + 2) { // '[' and ']', '{' and '}' lie two apart
            at++;
            return false;
        }
        return true;
    }

    /** Passes a comma and returns true, or the closing bracket and returns false. */
    protected final boolean another(char closing) {
        space();
        byte b = bytes[at];
        if (b == ',') {
            at++;
            space();
            if (bytes[at] == closing) {
                throw syntax("a comma stands before the closing '" + closing + "'", "delete the comma");
            }
            return true;
        }
        if (b != closing) {
            throw syntax("expected ',' or '" + closing + "' but found " + here(), mend());
        }
        at++;
        return false;
    }

    /** Reads the name of a member and the colon; the cursor ends at the value. */
    protected final String name() {
        space();
        String name = string();
        expect(':');
        space();
        return name;
    }

    /** Passes the name of a member and the colon without making text of it; {@link #named} asks for it. */
    protected final void passName() {
        space();
        passString();
        expect(':');
        space();
    }

    /** Returns the name or string passed last. */
    protected final String passedName() {
        return stringPlain ? text(stringFrom, stringTo) : unescape(stringFrom, stringTo);
    }

    /** Returns whether the name or string passed last is this one, plain ASCII. */
    protected final boolean named(String wanted) {
        if (!stringPlain) {
            return unescape(stringFrom, stringTo).equals(wanted);
        }
        if (stringTo - stringFrom != wanted.length()) {
            return false;
        }
        for (int i = 0; i < wanted.length(); i++) {
            if (bytes[stringFrom + i] != wanted.charAt(i)) {
                return false;
            }
        }
        return true;
    }

    /** Reads a string. */
    protected final String string() {
        passString();
        return stringPlain ? text(stringFrom, stringTo) : unescape(stringFrom, stringTo);
    }

    /** Passes a string. */
    protected final void passString() {
        if (bytes[at] != '"') {
            throw syntax("expected a name or text in double quotes but found " + here(), mend());
        }
        int from = ++at;
        boolean plain = true;
        for (; bytes[at] != '"'; at++) {
            byte b = bytes[at];
            if (b >= 0 && b < ' ') {
                throw syntax("text does not end before " + here(), "close it with a double quote");
            }
            if (b == '\\') {
                plain = false;
                at++;
                if ("\"\\/bfnrtu".indexOf(bytes[at]) < 0) {
                    throw syntax("unknown escape \\" + here(), mend());
                }
            }
        }
        stringFrom = from;
        stringTo = at++;
        stringPlain = plain;
    }

    private String unescape(int from, int to) {
        StringBuilder text = new StringBuilder();
        String raw = new String(bytes, from, to - from, StandardCharsets.UTF_8);
        for (int i = 0; i < raw.length(); i++) {
            char c = raw.charAt(i);
            if (c != '\\') {
                text.append(c);
                continue;
            }
            c = raw.charAt(++i);
            switch (c) {
                case 'b' -> text.append('\b');
                case 'f' -> text.append('\f');
                case 'n' -> text.append('\n');
                case 'r' -> text.append('\r');
                case 't' -> text.append('\t');
                case 'u' -> {
                    int code = 0;
                    for (int k = 1; k <= 4; k++) {
                        int digit = i + k < raw.length() ? Character.digit(raw.charAt(i + k), 16) : -1;
                        if (digit < 0) {
                            at = from;
                            throw syntax("\\u in this text needs four hexadecimal digits", mend());
                        }
                        code = code * 16 + digit;
                    }
                    text.append((char) code);
                    i += 4;
                }
                default -> text.append(c);
            }
        }
        return text.toString();
    }

    /**
     * Reads a number. Beside JSON's own numbers, {@code null} and the words for what is not finite are taken, as some writers use
     * them: the caller finds that they are not finite.
     */
    protected final double jsonNumber() {
        if (bytes[at] <= ' ') {
            space();
        }
        int from = at;
        byte first = bytes[from];
        double value = number();
        if (at == from) {
            if (spells(at, "null")) {
                at += 4;
                return Double.NaN;
            }
            throw syntax("expected a number but found " + here(), mend());
        }
        byte last = bytes[at - 1];
        if (first == '+' || first == '.' || last == '.' || (first == '0' && isDigit(bytes[from + 1]))) {
            at = from;
            throw syntax("this is not a number as JSON writes it", "write 0.5 for .5, 1 for 01, +1 or 1.");
        }
        return value;
    }

    private static boolean isDigit(byte b) {
        return b >= '0' && b <= '9';
    }

    /** Passes over a value of any kind, checking its syntax. */
    protected final void skipValue() {
        skipValue(0);
    }

    private void skipValue(int depth) {
        if (depth == DEEPEST) {
            throw syntax("values lie in each other more than " + DEEPEST + " deep", "write them flatter");
        }
        space();
        switch (bytes[at]) {
            case '{' -> {
                if (begin('{')) {
                    do {
                        passName();
                        skipValue(depth + 1);
                    } while (another('}'));
                }
            }
            case '[' -> {
                if (begin('[')) {
                    do {
                        skipValue(depth + 1);
                    } while (another(']'));
                }
            }
            case '"' -> passString();
            case 't' -> literal("true");
            case 'f' -> literal("false");
            case 'n' -> literal("null");
            default -> jsonNumber();
        }
    }

    /** Reads a literal. */
    protected final void literal(String word) {
        for (int i = 0; i < word.length(); i++) {
            if (bytes[at + i] != word.charAt(i)) {
                throw syntax("expected " + word + " but found " + here(), mend());
            }
        }
        at += word.length();
    }

    /** Returns whether the value here is null, and passes over it if so. */
    protected final boolean isNull() {
        space();
        if (bytes[at] == 'n') {
            literal("null");
            return true;
        }
        return false;
    }
}
