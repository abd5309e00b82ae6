package org.evenstamp.analysis.material;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.io.StringReader;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.evenstamp.shared.problem.InputException;
import org.evenstamp.shared.problem.Problem;
import org.junit.jupiter.api.Test;

class MaterialLibraryTest {
    private final MaterialLibrary library = MaterialLibrary.standard();

    private static MaterialLibrary read(String... lines) throws IOException {
        return MaterialLibrary.read(new StringReader(String.join("\n", lines)), "mine.tsv");
    }

    @Test
    void built_in_materials_have_what_the_analyses_need() {
        for (Material material : library.materials()) {
            assertThat(material.about()).as(material.id()).isNotBlank();
            Set<Property> expected = new HashSet<>();
            switch (material.kind()) {
                case FILM -> expected.add(Property.VISCOSITY);
                case SOLVENT -> expected.add(Property.GLASS_TEMPERATURE);
                case STAMP, SUBSTRATE ->
                    expected.addAll(List.of(Property.YOUNG_MODULUS, Property.POISSON, Property.EXPANSION));
                case COATING -> expected.add(Property.SURFACE_ENERGY);
            }
            assertThat(material.data()).extracting(Datum::property).containsAll(expected);
        }
        assertThat(library.materials().stream().filter(m -> m.kind() == MaterialKind.FILM))
                .hasSize(11);
        assertThat(library.materials().stream().filter(m -> m.kind() == MaterialKind.STAMP))
                .hasSize(5);
    }

    @Test
    void property_appears_once_in_a_built_in_material_and_says_memory_where_it_is_memory() {
        for (Material material : library.materials()) {
            assertThat(material.data()).extracting(Datum::property).doesNotHaveDuplicates();
            for (Datum datum : material.data()) {
                assertThat(datum.source().startsWith("from memory") && datum.standing() != Provenance.FROM_MEMORY)
                        .as(material.id() + " " + datum.property().word())
                        .isFalse();
            }
        }
    }

    /** Numbers of public tables, named in the source column; biaxial modulus of a (100) wafer 180.5 GPa from memory. */
    @Test
    void stamps_carry_the_published_numbers_in_si() {
        Material silicon = library.get(MaterialKind.STAMP, "silicon");
        assertThat(silicon.si(Property.YOUNG_MODULUS) / (1 - silicon.si(Property.POISSON)))
                .isCloseTo(180.556e9, withinPercentage(1e-3));
        Material pdms = library.get(MaterialKind.STAMP, "pdms");
        assertThat(pdms.si(Property.YOUNG_MODULUS)).isCloseTo(2e6, within(1e-3));
        assertThat(pdms.find(Property.YOUNG_MODULUS)
                        .orElseThrow()
                        .spread()
                        .orElseThrow()
                        .most())
                .isCloseTo(2.97e6, within(1e-3));
        assertThat(library.get(MaterialKind.STAMP, "nickel").si(Property.EXPANSION))
                .isCloseTo(13.4e-6, within(1e-12));
        assertThat(library.get(MaterialKind.FILM, "pmma-75k").si(Property.GLASS_TEMPERATURE))
                .isCloseTo(378.15, within(1e-9));
        assertThat(library.get(MaterialKind.FILM, "uv-acrylate").si(Property.DOSE))
                .isCloseTo(5000, within(1e-9));
    }

    @Test
    void users_material_replaces_a_built_in_one_and_adds_new_ones() throws IOException {
        MaterialLibrary all = library.with(read(
                "film\tpmma-75k\tviscosity\t9e3 Pa s\t-\t180 degC\t-\tmeasured\tour rheometer",
                "",
                "# a comment",
                "film\tmine\tabout\tmy own film",
                "film\tmine\tviscosity\t20 mPa s\t10..30 mPa s\t25 degC\t20..40 degC\tmeasured\tour viscometer"));

        assertThat(all.get(MaterialKind.FILM, "pmma-75k").data()).hasSize(1);
        assertThat(all.get(MaterialKind.FILM, "mine").about()).isEqualTo("my own film");
        assertThat(all.materials()).hasSize(library.materials().size() + 1);
    }

    @Test
    void every_wrong_line_is_told_at_once_with_its_place() {
        InputException thrown = catchThrowableOfType(
                InputException.class,
                () -> read(
                        "film\ta\tviscosity\t20 mPa s",
                        "foil\ta\tviscosity\t20 mPa s\t-\t-\t-\tmeasured\tx",
                        "film\ta\tviskosity\t20 mPa s\t-\t-\t-\tmeasured\tx",
                        "film\ta\tviscosity\t20\t-\t-\t-\tmeasured\tx",
                        "film\ta\tviscosity\t20 MPa\t-\t-\t-\tmeasured\tx",
                        "film\ta\tviscosity\t-20 Pa s\t-\t-\t-\tmeasured\tx",
                        "film\ta\tviscosity\t20 Pa s\t30..40 Pa s\t-\t-\tmeasured\tx",
                        "film\ta\tviscosity\t20 Pa s\t40..10 Pa s\t-\t-\tmeasured\tx",
                        "film\ta\tviscosity\t20 Pa s\t-\t-400 degC\t-\tmeasured\tx",
                        "film\ta\tviscosity\t20 Pa s\t-\t-\t-400..20 degC\tmeasured\tx",
                        "film\ta\tviscosity\t20 Pa s\t-\t-\t20 degC\tmeasured\tx",
                        "film\ta\tviscosity\t20 Pa s\t-\t-\t-\tguessed\tx",
                        "film\ta\tviscosity\t20 Pa s\t-\t-\t-\tmeasured\t-",
                        "film\t\tviscosity\t20 Pa s\t-\t-\t-\tmeasured\tx"));

        assertThat(thrown.problems()).hasSize(14).extracting(Problem::place).doesNotHaveDuplicates();
        assertThat(thrown.problems().get(0).line()).contains("mine.tsv:1").contains("4 columns");
        assertThat(thrown.problems().get(2).message()).contains("viskosity").contains("glass-temperature");
        assertThat(thrown.problems().get(11).message()).contains("from memory, common practice, measured");
    }

    @Test
    void unknown_material_and_missing_number_are_told_with_what_there_is() {
        assertThatThrownBy(() -> library.get(MaterialKind.STAMP, "glass")).hasMessageContaining("fused-silica, nickel");
        assertThatThrownBy(() -> library.get(MaterialKind.COATING, "bare").si(Property.STRENGTH))
                .hasMessageContaining("strength")
                .hasMessageContaining("MPa");
    }
}
