package org.evenstamp.analysis.dummy;

/**
 * What dummies cost, so that none are placed for nothing.
 *
 * @param area price of the added volume: a tile whose averaged shortage is below this share of the spread without dummies
 *     stays as it is
 * @param amount price of the square of a tile's amount beside the square of the averaged volume: prefers many small amounts
 *     over few large ones, and makes the best amounts unique
 */
public record DummyPrices(double area, double amount) {
    /** What the tool uses: this project's own choice, a few per cent of the spread. */
    public static final DummyPrices STANDARD = new DummyPrices(0.02, 0.01);

    /** Checks that both are finite and not negative. */
    public DummyPrices {
        if (!(area >= 0 && amount >= 0) || Double.isInfinite(area + amount)) {
            throw new IllegalArgumentException("prices are finite and not negative, were " + area + " and " + amount);
        }
    }
}
