package org.evenstamp.output.picture;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.regex.Pattern;

/** Collects strokes and texts and paints them, two pixels of the picture to each of the sheet, with letters of our own. */
final class PixelSheet implements Sheet {
    private static final int FINE = 2;
    private static final Color INK = new Color(0x1a1a1a);
    private static final Pattern BLANK = Pattern.compile(" ");

    private final LabelFont font = new LabelFont();
    private final List<Consumer<Graphics2D>> strokes = new ArrayList<>();

    /** Returns the picture as a PNG file. */
    byte[] file(double width, double height) {
        BufferedImage image = new BufferedImage(
                (int) Math.ceil(width * FINE), (int) Math.ceil(height * FINE), BufferedImage.TYPE_INT_RGB);
        Graphics2D graphics = image.createGraphics();
        graphics.setColor(Color.WHITE);
        graphics.fillRect(0, 0, image.getWidth(), image.getHeight());
        graphics.scale(FINE, FINE);
        graphics.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        graphics.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
        strokes.forEach(stroke -> stroke.accept(graphics));
        graphics.dispose();
        return PngFile.of(image);
    }

    @Override
    public PixelSheet line(double x0, double y0, double x1, double y1, String stroke, double width) {
        return add(graphics -> {
            graphics.setColor(Color.decode(stroke));
            graphics.setStroke(new BasicStroke((float) width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND));
            graphics.draw(new Line2D.Double(x0, y0, x1, y1));
        });
    }

    @Override
    public PixelSheet polyline(double[] x, double[] y, String stroke, double width, String dash) {
        Path2D path = new Path2D.Double();
        for (int i = 0; i < x.length; i++) {
            if (i == 0) {
                path.moveTo(x[i], y[i]);
            } else {
                path.lineTo(x[i], y[i]);
            }
        }
        float[] lengths = dash.isEmpty() ? null : lengths(dash);
        return add(graphics -> {
            graphics.setColor(Color.decode(stroke));
            graphics.setStroke(
                    new BasicStroke((float) width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10, lengths, 0));
            graphics.draw(path);
        });
    }

    private static float[] lengths(String dash) {
        double[] parsed =
                BLANK.splitAsStream(dash).mapToDouble(Double::parseDouble).toArray();
        float[] lengths = new float[parsed.length];
        for (int i = 0; i < parsed.length; i++) {
            lengths[i] = (float) parsed[i];
        }
        return lengths;
    }

    @Override
    public PixelSheet frame(double x, double y, double width, double height, double stroke) {
        return add(graphics -> {
            graphics.setColor(INK);
            graphics.setStroke(new BasicStroke((float) stroke));
            graphics.draw(new Rectangle2D.Double(x, y, width, height));
        });
    }

    @Override
    public PixelSheet fill(double x, double y, double width, double height, int colour) {
        return add(graphics -> {
            graphics.setColor(new Color(colour));
            graphics.fill(new Rectangle2D.Double(x, y, width, height));
        });
    }

    @Override
    public PixelSheet text(double x, double y, double size, String anchor, String words) {
        double width = font.width(words, size);
        double left = anchor.equals("end") ? x - width : anchor.equals("middle") ? x - width / 2 : x;
        return add(graphics -> {
            graphics.setColor(INK);
            font.draw(graphics, words, left, y, size);
        });
    }

    private PixelSheet add(Consumer<Graphics2D> stroke) {
        strokes.add(stroke);
        return this;
    }
}
