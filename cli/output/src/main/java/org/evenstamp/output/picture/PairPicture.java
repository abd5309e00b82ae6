package org.evenstamp.output.picture;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import org.evenstamp.engine.result.FieldStatistics;
import org.evenstamp.geometry.tile.MapOptions;
import org.evenstamp.shared.field.Field;

/** Two maps of one field side by side, before on the left and after on the right, in the colours of one range. */
public final class PairPicture {
    private final MapPicture picture;

    /** Creates a painter for maps of one stamp. */
    public PairPicture(MapOptions.Outline outline) {
        picture = new MapPicture(outline);
    }

    /** Returns the picture as a PNG file. Both fields are on the same grid. */
    public byte[] png(Field before, Field after) {
        ColourRange range = range(before, after);
        BufferedImage left = picture.draw(before, range);
        BufferedImage right = picture.draw(after, range);
        BufferedImage both = new BufferedImage(
                left.getWidth() + right.getWidth(),
                Math.max(left.getHeight(), right.getHeight()),
                BufferedImage.TYPE_INT_RGB);
        Graphics2D g = both.createGraphics();
        try {
            g.setColor(Color.WHITE);
            g.fillRect(0, 0, both.getWidth(), both.getHeight());
            g.drawImage(left, 0, 0, null);
            g.drawImage(right, left.getWidth(), 0, null);
        } finally {
            g.dispose();
        }
        return PngFile.of(both);
    }

    /** All values of both: a comparison hides no outlier. */
    private static ColourRange range(Field before, Field after) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (Field field : new Field[] {before, after}) {
            FieldStatistics numbers = FieldStatistics.of(field);
            if (numbers.known() > 0) {
                low = Math.min(low, numbers.min());
                high = Math.max(high, numbers.max());
            }
        }
        return low <= high ? new ColourRange(low, high, 0, 0) : new ColourRange(0, 0, 0, 0);
    }
}
