package org.evenstamp.geometry.read;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Where the columns of a table are.
 *
 * @param delimiter what stands between cells; 0 when there is one column only
 * @param count number of columns
 * @param geometry the column of well-known text, from 0
 * @param depth the column of depths; -1 for none
 * @param role the column of roles; -1 for none
 * @param name the column of names of regions; -1 for none
 * @param weight the column of weights of regions; -1 for none
 * @param others names of the columns that mean nothing to a layout
 * @param header whether the first row names the columns
 */
record CsvColumns(
        char delimiter,
        int count,
        int geometry,
        int depth,
        int role,
        int name,
        int weight,
        List<String> others,
        boolean header) {

    /**
     * Finds the columns from the first two rows.
     *
     * @return null when neither names or holds well-known text
     */
    static @org.jspecify.annotations.Nullable CsvColumns of(String first, String second) {
        char delimiter = delimiter(first);
        List<String> names = cells(first, delimiter);
        for (int i = 0; i < names.size(); i++) {
            if (holdsWkt(names.get(i))) {
                return new CsvColumns(delimiter, names.size(), i, -1, -1, -1, -1, List.of(), false);
            }
        }
        List<String> lower = names.stream()
                .map(name -> name.strip().toLowerCase(Locale.ROOT))
                .toList();
        int geometry = Math.max(lower.indexOf("wkt"), lower.indexOf("geometry"));
        if (lower.contains("wkt")) {
            geometry = lower.indexOf("wkt");
        }
        if (geometry < 0) {
            List<String> values = cells(second, delimiter);
            for (int i = 0; i < Math.min(names.size(), values.size()) && geometry < 0; i++) {
                if (holdsWkt(values.get(i))) {
                    geometry = i;
                }
            }
        }
        if (geometry < 0) {
            return null;
        }
        int depth = lower.indexOf("depth");
        int role = lower.indexOf("role");
        int name = lower.indexOf("name");
        int weight = lower.indexOf("weight");
        List<String> others = new ArrayList<>();
        for (int i = 0; i < names.size(); i++) {
            boolean read = i == geometry || i == depth || i == role || i == name || i == weight;
            if (!read && !lower.get(i).equals("id")) {
                others.add(names.get(i).strip());
            }
        }
        return new CsvColumns(delimiter, names.size(), geometry, depth, role, name, weight, others, true);
    }

    private static boolean holdsWkt(String cell) {
        return cell.strip()
                .toUpperCase(Locale.ROOT)
                .matches("(?s)(SRID=\\d+;\\s*)?(MULTI)?(POLYGON|POINT|LINESTRING|GEOMETRYCOLLECTION|TRIANGLE)"
                        + "\\s*(ZM|Z|M)?\\s*(\\(|EMPTY).*");
    }

    private static char delimiter(String row) {
        boolean quoted = false;
        for (char candidate : new char[] {'\t', ';', ','}) {
            for (int i = 0; i < row.length(); i++) {
                char c = row.charAt(i);
                quoted ^= c == '"';
                if (!quoted && c == candidate) {
                    return candidate;
                }
            }
            quoted = false;
        }
        return 0;
    }

    private static List<String> cells(String row, char delimiter) {
        List<String> cells = new ArrayList<>();
        StringBuilder cell = new StringBuilder();
        boolean quoted = false;
        for (int i = 0; i < row.length(); i++) {
            char c = row.charAt(i);
            if (c == '"') {
                quoted = !quoted;
            } else if (c == delimiter && !quoted) {
                cells.add(cell.toString());
                cell.setLength(0);
            } else {
                cell.append(c);
            }
        }
        cells.add(cell.toString());
        return cells;
    }
}
