package org.evenstamp.analysis.film.stamp;

/**
 * The stamp's body as an elastic solid: how far its printed face yields to a pressure wave of unit amplitude.
 *
 * <p>Linear elasticity, small strains, isotropic. With {@code E* = E/(1-ν²)} and {@code a = k t} the compliance is {@code
 * 2/(E* k) · W(a)}; the transfer functions W are those of a plane-strain layer (derived; they agree with a matrix
 * exponential solution of the layer to all digits printed in the tests).
 */
public sealed interface Stamp {
    /**
     * Returns the amplitude of the face's displacement per amplitude of pressure, in m/Pa.
     *
     * @param wavenumber angular wavenumber k in 1/m, positive
     */
    double compliance(double wavenumber);

    /** Returns whether the press acts on its back, which a pressure there then bends: others are held by something rigid. */
    default boolean isPressedOnBack() {
        return this instanceof Plate || this instanceof LayerOnPlate || this instanceof OnSubstrate;
    }

    /** Returns Young's modulus at the printed face, in Pa; infinite where it does not yield. */
    default double faceModulusPascal() {
        if (this instanceof HalfSpace body) {
            return body.modulusPascal();
        }
        if (this instanceof Plate body) {
            return body.modulusPascal();
        }
        if (this instanceof BondedLayer body) {
            return body.modulusPascal();
        }
        if (this instanceof OnSubstrate pair) {
            return pair.stamp().faceModulusPascal();
        }
        return this instanceof LayerOnPlate both ? both.layer().modulusPascal() : Double.POSITIVE_INFINITY;
    }

    /** A body that does not yield at all. */
    record Rigid() implements Stamp {
        @Override
        public double compliance(double wavenumber) {
            return 0;
        }
    }

    /**
     * A body so thick that its back is not felt.
     *
     * @param modulusPascal Young's modulus E
     * @param poisson Poisson's ratio ν, above -1 and at most 0.5
     */
    record HalfSpace(double modulusPascal, double poisson) implements Stamp {
        /** Checks the ranges. */
        public HalfSpace {
            check(modulusPascal, poisson, 1);
        }

        @Override
        public double compliance(double wavenumber) {
            return 2 * (1 - poisson * poisson) / (modulusPascal * wavenumber);
        }
    }

    /**
     * A free plate pressed by a pressure on its back, with bending, shear and indentation: tends to Kirchhoff's plate for
     * long waves and to the half-space for short ones.
     *
     * @param modulusPascal Young's modulus E
     * @param poisson Poisson's ratio ν, above -1 and at most 0.5
     * @param thicknessMetres thickness t
     */
    record Plate(double modulusPascal, double poisson, double thicknessMetres) implements Stamp {
        /** Checks the ranges. */
        public Plate {
            check(modulusPascal, poisson, thicknessMetres);
        }

        /** Returns Kirchhoff's bending stiffness {@code E t³/(12 (1-ν²))} in N m. */
        public double bendingStiffness() {
            return modulusPascal * Math.pow(thicknessMetres, 3) / (12 * (1 - poisson * poisson));
        }

        @Override
        public double compliance(double wavenumber) {
            double a = wavenumber * thicknessMetres;
            double factor = 2 * (1 - poisson * poisson) / (modulusPascal * wavenumber);
            if (a > 20) {
                return factor; // exp(-2a) is below rounding
            }
            double sinh = Math.sinh(a);
            // sinh² a - a² cancels for small a
            double below = a < 0.3
                    ? a * a * a * a * (1.0 / 3 + a * a * (2.0 / 45 + a * a * (1.0 / 315 + a * a * 2.0 / 14175)))
                    : sinh * sinh - a * a;
            return factor * (sinh * Math.cosh(a) + a) / below;
        }
    }

    /**
     * A layer whose back is bonded to something rigid.
     *
     * @param modulusPascal Young's modulus E
     * @param poisson Poisson's ratio ν, above -1 and at most 0.5
     * @param thicknessMetres thickness t
     */
    record BondedLayer(double modulusPascal, double poisson, double thicknessMetres) implements Stamp {
        /** Checks the ranges. */
        public BondedLayer {
            check(modulusPascal, poisson, thicknessMetres);
        }

        /** Returns what a uniform pressure does: {@code t (1+ν)(1-2ν)/(E (1-ν))} in m/Pa, zero when incompressible. */
        public double uniformCompliance() {
            return thicknessMetres * (1 + poisson) * (1 - 2 * poisson) / (modulusPascal * (1 - poisson));
        }

        @Override
        public double compliance(double wavenumber) {
            double a = wavenumber * thicknessMetres;
            double factor = 2 * (1 - poisson * poisson) / (modulusPascal * wavenumber);
            if (a > 20) {
                return factor;
            }
            double kappa = 3 - 4 * poisson;
            double b = 2 * a;
            // sinh b - b cancels for small b
            double sinhLess = b < 0.3
                    ? b * b * b * (1.0 / 6 + b * b * (1.0 / 120 + b * b * (1.0 / 5040 + b * b / 362880)))
                    : Math.sinh(b) - b;
            double above = 2 * kappa * sinhLess + 2 * b * (kappa - 1);
            return factor * above / (2 * kappa * Math.cosh(b) + 1 + kappa * kappa + b * b);
        }
    }

    /**
     * A soft printed layer on a plate: the layer yields as if the plate were rigid, and the plate as if loaded directly.
     * Valid when the plate is far stiffer than the layer.
     *
     * @param layer the printed layer
     * @param plate the plate behind it
     */
    record LayerOnPlate(BondedLayer layer, Plate plate) implements Stamp {
        @Override
        public double compliance(double wavenumber) {
            return layer.compliance(wavenumber) + plate.compliance(wavenumber);
        }
    }

    /**
     * A stamp over a substrate that nothing holds flat: a soft chuck or cushion presses on its back as the press does on the stamp's.
     * The film's gap opens by what both yield.
     *
     * @param stamp the stamp
     * @param substrate the substrate
     */
    record OnSubstrate(Stamp stamp, Plate substrate) implements Stamp {
        @Override
        public double compliance(double wavenumber) {
            return stamp.compliance(wavenumber) + substrate.compliance(wavenumber);
        }
    }

    private static void check(double modulusPascal, double poisson, double thicknessMetres) {
        if (!(modulusPascal > 0) || !Double.isFinite(modulusPascal)) {
            throw new IllegalArgumentException("Young's modulus must be positive, was " + modulusPascal + " Pa");
        }
        if (!(poisson > -1 && poisson <= 0.5)) {
            throw new IllegalArgumentException("Poisson's ratio lies in -1 .. 0.5, was " + poisson);
        }
        if (!(thicknessMetres > 0) || !Double.isFinite(thicknessMetres)) {
            throw new IllegalArgumentException("the thickness must be positive, was " + thicknessMetres + " m");
        }
    }
}
