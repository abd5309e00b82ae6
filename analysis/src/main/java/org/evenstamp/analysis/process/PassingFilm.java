package org.evenstamp.analysis.process;

/**
 * How thick a film a soft roller lets pass: the central film of a line contact whose bodies yield and whose liquid keeps its
 * viscosity, {@code h/R = 3.97 U^0.6 W^-0.2}, {@code U = η u/(E' R)}, {@code W = F'/(E' R)}, {@code E' = 2 E*}, with enough liquid ahead of it.
 *
 * <p>Source: H. Moes' limit {@code H = 2.621 M^(-1/5)} of a yielding contact in
 * C.H. Venner, Multilevel Solution of the EHL Line and Point Contact Problems, thesis, Twente 1991, from memory; K. Herrebrugh, J.
 * Lubr. Technol. 90 (1968) 262, has 3.10 for the smallest film, from memory. Range: {@code M = W/sqrt(2 U)} above about 10; smooth surfaces, a thick
 * cover, a Newtonian liquid at one temperature. A stamp's relief lets more pass: an estimate.
 *
 * @param contact the strip of contact
 * @param viscosity of the liquid, Pa s
 * @param metresPerSecond speed of both surfaces
 */
public record PassingFilm(LineContact contact, double viscosity, double metresPerSecond) {
    private static final double CENTRAL = 3.97;
    private static final double OF_SPEED = 0.6;
    private static final double OF_LOAD = -0.2;
    private static final double LEAST_LOAD = 10;

    private double perModulus() {
        return 1 / (2 * contact.modulusPascals() * contact.radiusMetres());
    }

    /** Returns the film that passes, m. */
    public double metres() {
        double speed = viscosity * metresPerSecond * perModulus();
        double load = contact.lineForceNewtonsPerMetre() * perModulus();
        return contact.radiusMetres() * CENTRAL * Math.pow(speed, OF_SPEED) * Math.pow(load, OF_LOAD);
    }

    /** Returns whether the contact yields as much as the law asks for; stiffer rollers let more pass than it says. */
    public boolean isInRange() {
        double speed = viscosity * metresPerSecond * perModulus();
        return contact.lineForceNewtonsPerMetre() * perModulus() / Math.sqrt(2 * speed) >= LEAST_LOAD;
    }

    /** Returns the speed at which a film passes, m/s. */
    public double speedFor(double film) {
        return metresPerSecond * Math.pow(film / metres(), 1 / OF_SPEED);
    }
}
