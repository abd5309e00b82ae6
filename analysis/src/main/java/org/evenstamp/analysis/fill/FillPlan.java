package org.evenstamp.analysis.fill;

/** Amounts of dummies, and what is proven about them. Immutable. */
public final class FillPlan {
    private final double[] amounts;
    private final FillReport report;

    FillPlan(double[] amounts, FillReport report) {
        this.amounts = amounts.clone();
        this.report = report;
    }

    /** Returns the volume per area to add in each tile, m, negative where it is to be taken away. */
    public double[] amounts() {
        return amounts.clone();
    }

    /** Returns how the program ended. */
    public FillReport report() {
        return report;
    }
}
