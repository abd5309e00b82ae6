package org.evenstamp.analysis.dummy;

/** Amounts of dummies, and what is proven about them. Immutable. */
public final class DummyPlan {
    private final double[] amounts;
    private final ProgramReport report;

    DummyPlan(double[] amounts, ProgramReport report) {
        this.amounts = amounts.clone();
        this.report = report;
    }

    /** Returns the volume per area to add in each tile, m, negative where it is to be taken away. */
    public double[] amounts() {
        return amounts.clone();
    }

    /** Returns how the program ended. */
    public ProgramReport report() {
        return report;
    }
}
