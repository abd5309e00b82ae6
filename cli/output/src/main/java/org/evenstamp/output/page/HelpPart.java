package org.evenstamp.output.page;

import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;

/** The part of a page that tells what would help: tables and a small curve, which need no script. */
final class HelpPart {
    private static final int WIDTH = 420;
    private static final int HEIGHT = 180;
    private static final int LEFT = 60;
    private static final int BELOW = 30;

    private final WhatHelps help;
    private final UnaryOperator<String> escaped;

    HelpPart(WhatHelps help, UnaryOperator<String> escaped) {
        this.help = help;
        this.escaped = escaped;
    }

    String html() {
        StringBuilder out = new StringBuilder("<section id=\"part-help\"><h2>What would help</h2>");
        for (int n = 0; n < help.tables().size(); n++) {
            table(out, help.tables().get(n));
        }
        if (help.curve().size() > 1) {
            curve(out, help.curve());
        }
        return out.append("</section>\n").toString();
    }

    private void table(StringBuilder out, WhatHelps.Table table) {
        out.append("<div class=\"scroll\"><table class=\"help\"><caption>")
                .append(escaped.apply(table.caption()))
                .append("</caption><thead><tr>");
        for (String head : table.head()) {
            out.append("<th scope=\"col\">").append(escaped.apply(head)).append("</th>");
        }
        out.append("</tr></thead><tbody>");
        for (List<String> row : table.rows()) {
            out.append("<tr><th scope=\"row\">")
                    .append(escaped.apply(row.get(0)))
                    .append("</th>");
            for (String cell : row.subList(1, row.size())) {
                out.append("<td>").append(escaped.apply(cell)).append("</td>");
            }
            out.append("</tr>");
        }
        out.append("</tbody></table></div>");
    }

    /** Draws the number over the dummies, from 0 up. */
    private void curve(StringBuilder out, List<WhatHelps.Place> places) {
        double most =
                places.stream().mapToDouble(WhatHelps.Place::nanometres).max().orElse(1);
        double last = places.get(places.size() - 1).dummies();
        StringBuilder line = new StringBuilder();
        StringBuilder dots = new StringBuilder();
        for (WhatHelps.Place place : places) {
            double x = LEFT + (WIDTH - LEFT - 20) * place.dummies() / last;
            double y = HEIGHT - BELOW - (HEIGHT - BELOW - 15) * place.nanometres() / most;
            line.append(String.format(Locale.ROOT, "%.1f,%.1f ", x, y));
            dots.append(String.format(
                    Locale.ROOT,
                    "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"%d\" fill=\"%s\" stroke=\"currentColor\"/>",
                    x,
                    y,
                    place.proposed() ? 6 : 3,
                    place.proposed() ? "none" : "currentColor"));
        }
        out.append(String.format(
                Locale.ROOT,
                "<svg class=\"help\" viewBox=\"0 0 %d %d\" width=\"%d\" height=\"%d\" role=\"img\" aria-label=\"%s over the number"
                        + " of dummies, as in the table; a ring marks what is proposed\">",
                WIDTH,
                HEIGHT,
                WIDTH,
                HEIGHT,
                escaped.apply(help.goal())));
        out.append(String.format(
                Locale.ROOT,
                "<path d=\"M%1$d 10V%2$dH%3$d\" fill=\"none\" stroke=\"currentColor\" opacity=\"0.5\"/>",
                LEFT,
                HEIGHT - BELOW,
                WIDTH - 10));
        out.append("<polyline fill=\"none\" stroke=\"currentColor\" points=\"")
                .append(line.toString().strip())
                .append("\"/>")
                .append(dots);
        label(out, LEFT - 6, 19, "end", String.format(Locale.ROOT, "%.3g nm", most));
        label(out, LEFT - 6, HEIGHT - BELOW + 4, "end", "0");
        label(out, WIDTH - 20, HEIGHT - 10, "end", String.format(Locale.ROOT, "%,d dummies", (long) last));
        out.append("</svg>");
    }

    private static void label(StringBuilder out, int x, int y, String anchor, String text) {
        out.append(String.format(
                Locale.ROOT,
                "<text x=\"%d\" y=\"%d\" text-anchor=\"%s\" fill=\"currentColor\" font-size=\"12\">%s</text>",
                x,
                y,
                anchor,
                text));
    }
}
