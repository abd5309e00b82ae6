package org.evenstamp.analysis.material;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.io.StringReader;
import java.util.Optional;
import org.evenstamp.analysis.process.HotPress;
import org.evenstamp.analysis.process.ProcessHistory;
import org.evenstamp.analysis.process.Roller;
import org.evenstamp.analysis.process.SolventPress;
import org.evenstamp.analysis.process.StefanSqueeze;
import org.evenstamp.analysis.process.UvPress;
import org.evenstamp.analysis.rheology.Arrhenius;
import org.evenstamp.analysis.rheology.FilmLaw;
import org.evenstamp.analysis.rheology.MolarMass;
import org.evenstamp.analysis.rheology.Newtonian;
import org.evenstamp.analysis.rheology.Plasticizer;
import org.evenstamp.analysis.rheology.ShearThinning;
import org.evenstamp.analysis.rheology.TabulatedViscosity;
import org.evenstamp.analysis.rheology.ViscosityLaw;
import org.evenstamp.analysis.rheology.Wlf;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FilmLawsTest {
    private static final double ZERO = 273.15;
    private final MaterialLibrary library = MaterialLibrary.standard();

    private Material film(String id) {
        return library.get(MaterialKind.FILM, id);
    }

    private static Material own(String... rows) throws IOException {
        StringBuilder text = new StringBuilder();
        for (String row : rows) {
            text.append("film\tmine\t").append(row).append('\n');
        }
        return MaterialLibrary.read(new StringReader(text.toString()), "mine.tsv")
                .get(MaterialKind.FILM, "mine");
    }

    @Test
    void every_built_in_film_flows_inside_its_validity_and_thins_or_not() {
        for (Material material : library.materials()) {
            if (material.kind() == MaterialKind.FILM) {
                ViscosityLaw law = FilmLaws.of(material).viscosity();
                double least = law.pascalSeconds(law.valid().leastKelvin());
                double most = law.pascalSeconds(law.valid().mostKelvin());
                assertThat(least).as(material.id()).isGreaterThanOrEqualTo(most).isFinite();
                assertThat(FilmLaws.of(material).thinning().pascalSeconds(most, 10))
                        .isLessThanOrEqualTo(most);
            }
        }
        assertThat(FilmLaws.of(film("pmma-75k")).thinning()).isEqualTo(new ShearThinning.Cross(1.48e5, 0.21));
    }

    /** Melt set of a moulding PMMA, PMC7388655 Table 1. */
    @Test
    void moulding_pmma_reproduces_its_published_set() {
        Arrhenius law = (Arrhenius) FilmLaws.of(film("pmma-moulding")).viscosity();

        assertThat(law.pascalSeconds(200 + ZERO)).isCloseTo(199046.306, withinPercentage(1e-4));
        assertThat(law.pascalSeconds(260 + ZERO)).isCloseTo(615.827595, withinPercentage(1e-4));
    }

    @ParameterizedTest
    @ValueSource(strings = {"pmma-25k", "pmma-75k", "pmma-350k", "pmma-950k"})
    void pmma_viscosities_follow_the_molar_mass_from_the_published_melt(String id) {
        double ratio = MolarMass.viscosityRatio(
                110, film(id).si(Property.MOLAR_MASS), film(id).si(Property.CRITICAL_MOLAR_MASS));

        assertThat(FilmLaws.of(film(id)).viscosity().pascalSeconds(200 + ZERO))
                .isCloseTo(199046.306 * ratio, withinPercentage(0.1));
    }

    /**
     * Plausibility: the anchor from memory against reptation with contour-length fluctuations (Likhtman and McLeish,
     * Macromolecules 35 (2002) 6332, from memory) on the constants of the RepTate database, 170 degC, tau_e = 1.0423 ms.
     * Stated accuracy of the anchor: a factor 3.
     */
    @Test
    void polystyrene_is_within_a_factor_three_of_reptation() {
        Material film = film("ps-100k");
        double z = film.si(Property.MOLAR_MASS) / film.si(Property.ENTANGLEMENT_MOLAR_MASS);
        double fluctuations = 1 - 3.38 / Math.sqrt(z) + 4.17 / z - 1.55 / Math.pow(z, 1.5);
        double reptation = 3 * 1.0423e-3 * Math.pow(z, 3) * fluctuations;
        double viscosity = Math.PI * Math.PI / 12 * film.si(Property.PLATEAU_MODULUS) * reptation;

        assertThat(FilmLaws.of(film).viscosity().pascalSeconds(170 + ZERO)).isBetween(viscosity / 3, viscosity * 3);
    }

    /** Plausibility, common practice, no source: PMMA pressed at 150 degC and 30 to 50 MPa fills 25 nm features. */
    @ParameterizedTest
    @ValueSource(doubles = {30e6, 50e6})
    void pmma_fills_25_nm_lines_at_150_degrees(double pascals) {
        ProcessHistory history = new HotPress(298.15, 150 + ZERO, 333.15, 0.5, 0.5, pascals, 10, 300)
                .history(FilmLaws.of(film("pmma-75k")));

        StefanSqueeze line = new StefanSqueeze(history, 25e-9 * 25e-9, 100e-9);
        assertThat(line.secondsToReach(50e-9)).isPresent();
        assertThat(history.cautions()).isEmpty();
    }

    /**
     * Plausibility, published (Heyderman et al., Microelectron. Eng. 54 (2000) 229, abstract): imprint was fastest more than
     * 100 K above the glass temperature, at 300 to 3000 Pa s. A PMMA of low molar mass gets there about 100 K above.
     */
    @Test
    void low_molar_mass_pmma_comes_into_the_range_called_fastest_about_100_K_above_the_glass() {
        ViscosityLaw law = FilmLaws.of(film("pmma-25k")).viscosity();

        assertThat(law.pascalSeconds(law.glassKelvin() + 70)).isGreaterThan(3000);
        assertThat(law.pascalSeconds(law.glassKelvin() + 100)).isBetween(300.0, 3000.0);
    }

    @Test
    void library_serves_a_process_of_every_kind() {
        Material pmma = film("pmma-25k");
        Material resin = film("uv-acrylate");
        Material solvent = library.get(MaterialKind.SOLVENT, "generic");

        ProcessHistory hot = new HotPress(298.15, 453.15, 343.15, 0.5, 0.5, 5e6, 10, 60).history(FilmLaws.of(pmma));
        ProcessHistory uv =
                new UvPress(298.15, 1e5, 1, 10, 10, 500, resin.si(Property.DOSE)).history(FilmLaws.of(resin));
        FilmLaw dry = FilmLaws.of(pmma);
        FilmLaw swollen = new FilmLaw(
                dry.viscosity(),
                Optional.of(new Plasticizer.Fox(dry.glassKelvin(0), solvent.si(Property.GLASS_TEMPERATURE))),
                dry.decompositionKelvin(),
                dry.thinning());
        ProcessHistory vapour = new SolventPress(298.15, 2e6, 0.4, 600, 5, 600, 600).history(swollen);
        ProcessHistory rolled = Roller.covered(0.2, 2e7, 0.45, 2e4, 0.01, 473.15, new Roller.Setting.Cooling(5, 343.15))
                .history(FilmLaws.of(pmma));
        for (ProcessHistory history : new ProcessHistory[] {hot, uv, vapour, rolled}) {
            assertThat(StefanSqueeze.pressureOverViscosity(history, history.durationSeconds()))
                    .isFinite()
                    .isPositive();
        }
        // Plausibility, common practice: a liquid needs a small part of a melt's pressure for the same feature and
        // time.
        double hotDose = StefanSqueeze.pressureOverViscosity(hot, hot.durationSeconds());
        double uvDose = StefanSqueeze.pressureOverViscosity(uv, uv.durationSeconds());
        assertThat(uvDose).isGreaterThan(10 * hotDose);
    }

    @Test
    void users_numbers_choose_the_law() throws IOException {
        String warm = "viscosity\t9e3 Pa s\t-\t180 degC\t-\tmeasured\tx";
        String hot = "viscosity\t2e3 Pa s\t-\t200 degC\t-\tmeasured\tx";
        String glass = "glass-temperature\t105 degC\t-\t-\t-\tmeasured\tx";
        String activation = "arrhenius-temperature\t12000 K\t-\t-\t150..220 degC\tmeasured\tx";
        String c1 = "wlf-c1\t17.44 1\t-\t-\t-\tmeasured\tx";
        String c2 = "wlf-c2\t51.6 K\t-\t-\t-\tmeasured\tx";
        String reference = "wlf-reference\t105 degC\t-\t-\t-\tmeasured\tx";

        assertThat(FilmLaws.of(own(warm)).viscosity()).isInstanceOf(Newtonian.class);
        assertThat(FilmLaws.of(own(hot, warm, glass)).viscosity()).isInstanceOf(TabulatedViscosity.class);
        assertThat(FilmLaws.of(own(warm, glass, activation)).viscosity()).isInstanceOf(Arrhenius.class);
        ViscosityLaw wlf = FilmLaws.of(own(warm, glass, c1, c2, reference)).viscosity();
        assertThat(wlf).isInstanceOf(Wlf.class);
        assertThat(wlf.pascalSeconds(180 + ZERO)).isCloseTo(9e3, withinPercentage(1e-9));
        assertThatThrownBy(() ->
                        FilmLaws.of(own(warm, hot, glass, c1, c2, reference)).viscosity())
                .hasMessageContaining("2 viscosities");
        assertThatThrownBy(() -> FilmLaws.of(own(warm, c1, c2, reference)).viscosity())
                .hasMessageContaining("glass-temperature");
        assertThatThrownBy(() -> FilmLaws.of(own(glass)).viscosity()).hasMessageContaining("viscosity");
        assertThatThrownBy(() -> FilmLaws.of(own("viscosity\t1 Pa s\t-\t-\t-\tmeasured\tx"))
                        .viscosity())
                .hasMessageContaining("has no temperature");
    }
}
