package org.evenstamp.output.picture;

/**
 * The colours of the maps: dark blue over green to yellow, even steps in lightness, legible to colour-blind readers and in
 * grey print.
 *
 * <p>33 anchors of the "viridis" table by Nathaniel Smith, Stéfan van der Walt and Eric Firing (2015, released under CC0),
 * linear in between.
 */
public final class ColourScale {
    private static final int[] ANCHORS = {
        0x440154, 0x470d60, 0x48186a, 0x482374, 0x472d7b, 0x453781, 0x424086, 0x3e4989, 0x3b528b, 0x375b8d, 0x33638d,
        0x2f6b8e, 0x2c728e, 0x297a8e, 0x26828e, 0x23898e, 0x21918c, 0x1f978b, 0x1f9f88, 0x21a685, 0x27ad81, 0x31b57b,
        0x3dbc74, 0x4cc26c, 0x5cc863, 0x6ece58, 0x81d34d, 0x95d840, 0xaadc32, 0xc0df25, 0xd5e21a, 0xeae51a, 0xfde725
    };

    /** Blue below zero, orange above it, as the page draws differences. */
    private static final int[] TWO_SIDED = {
        0x123c69, 0x2f6ca8, 0x7fabd3, 0xc8dbea, 0xf5f4f0, 0xf0d3b0, 0xdd9c56, 0xb0611c, 0x6e3405
    };

    private ColourScale() {}

    /** Returns the colour, 0xRRGGBB, of a share from 0 to 1; shares outside take the colour of the nearer end. */
    public static int at(double share) {
        return between(ANCHORS, share);
    }

    /** Returns the colour, 0xRRGGBB, of a share from 0 to 1 of a range with zero in its middle. */
    public static int twoSided(double share) {
        return between(TWO_SIDED, share);
    }

    private static int between(int[] anchors, double share) {
        double place = Math.max(0, Math.min(1, share)) * (anchors.length - 1);
        int below = Math.min((int) place, anchors.length - 2);
        double part = place - below;
        int a = anchors[below];
        int b = anchors[below + 1];
        int colour = 0;
        for (int shift = 16; shift >= 0; shift -= 8) {
            double channel = (1 - part) * ((a >> shift) & 0xff) + part * ((b >> shift) & 0xff);
            colour |= (int) Math.round(channel) << shift;
        }
        return colour;
    }
}
