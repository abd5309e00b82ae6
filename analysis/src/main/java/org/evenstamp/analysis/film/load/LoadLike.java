package org.evenstamp.analysis.film.load;

import java.util.OptionalDouble;

/** A load that is another one but for what its subclasses say. */
abstract class LoadLike implements PressLoad {
    private final PressLoad other;

    LoadLike(PressLoad other) {
        this.other = other;
    }

    @Override
    public double endSeconds() {
        return other.endSeconds();
    }

    @Override
    public double viscosityPascalSeconds(double seconds) {
        return other.viscosityPascalSeconds(seconds);
    }

    @Override
    public boolean differsByTile() {
        return other.differsByTile();
    }

    @Override
    public void fluidity(double from, double to, double[] into) {
        other.fluidity(from, to, into);
    }

    @Override
    public void pressurePascal(double seconds, double[] into) {
        other.pressurePascal(seconds, into);
    }

    @Override
    public OptionalDouble temperatureKelvin(double seconds) {
        return other.temperatureKelvin(seconds);
    }

    @Override
    public double[] breaks() {
        return other.breaks();
    }
}
