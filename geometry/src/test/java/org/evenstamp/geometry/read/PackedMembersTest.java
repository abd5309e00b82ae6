package org.evenstamp.geometry.read;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.zip.CRC32;
import org.evenstamp.shared.problem.InputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Packed files of several members are read whole or not at all (RFC 1952, section 2.2; RFC 8878, section 3). */
class PackedMembersTest {
    private static final int EACH = 100;
    private static final String SQUARES = "POLYGON ((0 0, 1 0, 1 1, 0 1, 0 0))\n".repeat(EACH);

    @TempDir
    private Path directory;

    private static byte[] joined(byte[]... parts) {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        for (byte[] part : parts) {
            all.writeBytes(part);
        }
        return all.toByteArray();
    }

    private int read(byte[] bytes) {
        return Reading.of(Reading.file(directory, "layout.wkt.gz", bytes), Reading.METRES)
                .polygons()
                .size();
    }

    private String failure(byte[] bytes) {
        return Reading.failure(() -> read(bytes));
    }

    @ParameterizedTest
    @EnumSource(
            value = Compression.class,
            names = {"GZIP", "ZSTD"})
    void every_member_is_read(Compression compression) {
        byte[] member = Reading.packed(SQUARES, compression);

        assertThat(read(joined(member, member, member))).isEqualTo(3 * EACH);
    }

    @ParameterizedTest
    @EnumSource(
            value = Compression.class,
            names = {"GZIP", "ZSTD"})
    void a_second_member_that_is_cut_off_anywhere_is_told(Compression compression) {
        byte[] member = Reading.packed(SQUARES, compression);
        for (int length = 1; length < member.length; length++) {
            byte[] bytes = joined(member, Arrays.copyOf(member, length));

            assertThat(failure(bytes)).as("cut after %d", length).contains("copy or compress it again");
        }
    }

    @Test
    void a_flipped_bit_in_the_heading_of_the_second_member_is_told() {
        byte[] member = Reading.packed(SQUARES, Compression.GZIP);
        for (int at : new int[] {0, 1, 2}) {
            byte[] damaged = member.clone();
            damaged[at] ^= 1;

            assertThat(failure(joined(member, damaged))).contains("what follows member 1 is not gzip");
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void a_flipped_bit_anywhere_is_told_or_changes_nothing(long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        byte[] member = Reading.packed(SQUARES, Compression.GZIP);
        byte[] two = joined(member, member);
        for (int i = 0; i < 200; i++) {
            byte[] damaged = two.clone();
            damaged[random.nextInt(two.length - 2) + 2] ^= (byte) (1 << random.nextInt(8));
            int polygons;
            try {
                polygons = read(damaged);
            } catch (InputException e) {
                continue; // told
            }
            assertThat(polygons).isEqualTo(2 * EACH); // in the time stamp and the like
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"text behind", "\u0000\u0000text", "{}"})
    void anything_behind_the_last_member_is_told(String tail) {
        byte[] member = Reading.packed(SQUARES, Compression.GZIP);

        assertThat(failure(joined(member, tail.getBytes(StandardCharsets.UTF_8))))
                .contains("member 1 is not gzip");
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 511, 300_000})
    void zero_bytes_may_follow_the_last_member_as_tapes_pad_with_them(int zeros) {
        byte[] member = Reading.packed(SQUARES, Compression.GZIP);

        assertThat(read(joined(member, member, new byte[zeros]))).isEqualTo(2 * EACH);
        assertThat(failure(joined(member, new byte[zeros], member))).contains("zero bytes after member 1");
    }

    @Test
    void every_part_of_a_heading_is_passed() {
        byte[] plain = Reading.packed(SQUARES, Compression.GZIP);
        byte[] extra = {3, 0, 'x', 'y', 'z', 'n', 0, 'c', 'o', 0};
        byte[] heading = joined(Arrays.copyOf(plain, 10), extra);
        heading[3] = 2 | 4 | 8 | 16;
        CRC32 check = new CRC32();
        check.update(heading);
        byte[] low = {(byte) check.getValue(), (byte) (check.getValue() >> 8)};
        byte[] body = Arrays.copyOfRange(plain, 10, plain.length);

        assertThat(read(joined(heading, low, body))).isEqualTo(EACH);
        low[0] ^= 1;
        assertThat(failure(joined(heading, low, body)))
                .contains("heading of member 1")
                .contains("check sum");
        heading[3] = (byte) 0x80;
        assertThat(failure(joined(heading, low, body))).contains("unknown flags");
    }
}
