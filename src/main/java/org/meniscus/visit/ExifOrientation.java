package org.meniscus.visit;

import java.awt.geom.AffineTransform;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/**
 * How a camera held the picture: the one thing in a file's metadata that has to be acted on. Values 1 to 8 as the Exif
 * standard numbers them (JEITA CP-3451, tag 0x0112, from memory).
 */
enum ExifOrientation {

	UPRIGHT, MIRRORED, UPSIDE_DOWN, UPSIDE_DOWN_MIRRORED, LEFT_MIRRORED, LEFT, RIGHT_MIRRORED, RIGHT;

	private static final int TAG = 0x0112;

	/** Upright when the file is no JPEG, says nothing or nonsense. */
	static ExifOrientation of(byte[] file) {
		try {
			int value = read(ByteBuffer.wrap(file));
			return (value >= 1 && value <= 8) ? values()[value - 1] : UPRIGHT;
		}
		catch (IndexOutOfBoundsException | IllegalArgumentException ex) {
			return UPRIGHT;
		}
	}

	/** Width and height change places. */
	boolean swapsSides() {
		return ordinal() >= LEFT_MIRRORED.ordinal();
	}

	/** From a picture of this size as stored to the picture as seen. */
	AffineTransform upright(int width, int height) {
		return switch (this) {
			case UPRIGHT -> new AffineTransform();
			case MIRRORED -> new AffineTransform(-1, 0, 0, 1, width, 0);
			case UPSIDE_DOWN -> new AffineTransform(-1, 0, 0, -1, width, height);
			case UPSIDE_DOWN_MIRRORED -> new AffineTransform(1, 0, 0, -1, 0, height);
			case LEFT_MIRRORED -> new AffineTransform(0, 1, 1, 0, 0, 0);
			case LEFT -> new AffineTransform(0, 1, -1, 0, height, 0);
			case RIGHT_MIRRORED -> new AffineTransform(0, -1, -1, 0, height, width);
			case RIGHT -> new AffineTransform(0, -1, 1, 0, 0, width);
		};
	}

	private static int read(ByteBuffer file) {
		if ((file.getShort(0) & 0xFFFF) != 0xFFD8) {
			return 1;
		}
		int at = 2;
		while (at + 4 <= file.limit()) {
			int marker = file.getShort(at) & 0xFFFF;
			int length = file.getShort(at + 2) & 0xFFFF;
			if (marker == 0xFFDA || (marker & 0xFF00) != 0xFF00) {
				return 1;
			}
			if (marker == 0xFFE1 && length >= 14 && file.getInt(at + 4) == 0x45786966) {
				return tag(file.slice(at + 10, length - 8));
			}
			at += 2 + length;
		}
		return 1;
	}

	private static int tag(ByteBuffer tiff) {
		tiff.order((tiff.getShort(0) == 0x4949) ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN);
		int directory = tiff.getInt(4);
		int entries = tiff.getShort(directory) & 0xFFFF;
		for (int n = 0; n < entries; n++) {
			int entry = directory + 2 + 12 * n;
			if ((tiff.getShort(entry) & 0xFFFF) == TAG) {
				return tiff.getShort(entry + 8) & 0xFFFF;
			}
		}
		return 1;
	}

}
