package org.evenstamp.output.picture;

import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.zip.CRC32;
import java.util.zip.Deflater;

/**
 * Writes an opaque picture as PNG (ISO/IEC 15948), 8 bits a channel, no interlace.
 *
 * <p>Every line is coded as its difference from the line above (filter type 2): on a map most lines repeat, so this packs
 * well and takes a fraction of the time of an encoder that tries all filters on all lines.
 */
final class PngFile {
    private static final byte[] SIGNATURE = {(byte) 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'};
    private static final byte UP = 2;
    private static final int LEVEL = 4;

    private PngFile() {}

    /** Returns the file. */
    static byte[] of(BufferedImage image) {
        int width = image.getWidth();
        int height = image.getHeight();
        ByteArrayOutputStream file = new ByteArrayOutputStream();
        file.writeBytes(SIGNATURE);
        ByteBuffer header = ByteBuffer.allocate(13).putInt(width).putInt(height);
        header.put((byte) 8).put((byte) 2).put((byte) 0).put((byte) 0).put((byte) 0); // depth, RGB, the only methods
        chunk(file, "IHDR", header.array());
        chunk(file, "IDAT", packed(image, width, height));
        chunk(file, "IEND", new byte[0]);
        return file.toByteArray();
    }

    /** Returns the pixels of a picture of the type RGB, its own memory: a row after the other, red in bits 16 to 23. */
    static int[] pixels(BufferedImage image) {
        return ((DataBufferInt) image.getRaster().getDataBuffer()).getData();
    }

    private static byte[] packed(BufferedImage image, int width, int height) {
        byte[] line = new byte[1 + 3 * width];
        line[0] = UP;
        int[] pixels = pixels(image);
        byte[] buffer = new byte[1 << 16];
        ByteArrayOutputStream packed = new ByteArrayOutputStream();
        Deflater deflater = new Deflater(LEVEL);
        try {
            for (int y = 0; y < height; y++) {
                for (int x = 0, i = y * width; x < width; x++, i++) {
                    int pixel = pixels[i];
                    int above = y == 0 ? 0 : pixels[i - width];
                    line[3 * x + 1] = (byte) ((pixel >> 16) - (above >> 16));
                    line[3 * x + 2] = (byte) ((pixel >> 8) - (above >> 8));
                    line[3 * x + 3] = (byte) (pixel - above);
                }
                deflater.setInput(line);
                while (!deflater.needsInput()) {
                    packed.write(buffer, 0, deflater.deflate(buffer));
                }
            }
            deflater.finish();
            while (!deflater.finished()) {
                packed.write(buffer, 0, deflater.deflate(buffer));
            }
        } finally {
            deflater.end();
        }
        return packed.toByteArray();
    }

    private static void chunk(ByteArrayOutputStream file, String type, byte[] content) {
        byte[] name = type.getBytes(StandardCharsets.US_ASCII);
        CRC32 crc = new CRC32();
        crc.update(name);
        crc.update(content);
        file.writeBytes(ByteBuffer.allocate(4).putInt(content.length).array());
        file.writeBytes(name);
        file.writeBytes(content);
        file.writeBytes(ByteBuffer.allocate(4).putInt((int) crc.getValue()).array());
    }
}
