package org.meniscus.visit;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

import javax.imageio.ImageIO;

/** Photos as a phone would send them, drawn here. */
public final class SamplePhotos {

	/** Written into the metadata, to be looked for afterwards. */
	public static final String CAMERA = "Fieldcam Quartz 9";

	private SamplePhotos() {
	}

	/** 800 by 600, blue, the left upper quarter red. */
	public static byte[] plain() {
		return jpeg(800, 600);
	}

	static byte[] jpeg(int width, int height) {
		BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
		Graphics2D canvas = image.createGraphics();
		canvas.setColor(Color.BLUE);
		canvas.fillRect(0, 0, width, height);
		canvas.setColor(Color.RED);
		canvas.fillRect(0, 0, width / 2, height / 2);
		canvas.dispose();
		ByteArrayOutputStream bytes = new ByteArrayOutputStream();
		try {
			ImageIO.write(image, "jpeg", bytes);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return bytes.toByteArray();
	}

	/** 3200 by 2400 with the camera's name, a place (33.5 N) and orientation 6: held upright, stored lying. */
	public static byte[] withPlace() {
		byte[] jpeg = jpeg(3200, 2400);
		byte[] exif = exif();
		ByteBuffer whole = ByteBuffer.allocate(jpeg.length + exif.length + 4);
		whole.put(jpeg, 0, 2).putShort((short) 0xFFE1).putShort((short) (exif.length + 2)).put(exif);
		whole.put(jpeg, 2, jpeg.length - 2);
		return whole.array();
	}

	static boolean contains(byte[] file, String text) {
		return new String(file, StandardCharsets.ISO_8859_1).contains(text);
	}

	/** Exif 2.3: header, TIFF big-endian, one directory with camera and orientation, one with a place. */
	private static byte[] exif() {
		byte[] camera = Arrays.copyOf(CAMERA.getBytes(StandardCharsets.US_ASCII), CAMERA.length() + 1);
		int first = 8;
		int cameraAt = first + 2 + 3 * 12 + 4;
		int gps = cameraAt + camera.length + camera.length % 2;
		int latitudeAt = gps + 2 + 2 * 12 + 4;
		ByteBuffer tiff = ByteBuffer.allocate(latitudeAt + 24);
		tiff.putShort((short) 0x4D4D).putShort((short) 42).putInt(first);
		tiff.putShort((short) 3);
		tiff.putShort((short) 0x0110).putShort((short) 2).putInt(camera.length).putInt(cameraAt);
		tiff.putShort((short) 0x0112).putShort((short) 3).putInt(1).putShort((short) 6).putShort((short) 0);
		tiff.putShort((short) 0x8825).putShort((short) 4).putInt(1).putInt(gps);
		tiff.putInt(0);
		tiff.position(cameraAt).put(camera);
		tiff.position(gps).putShort((short) 2);
		tiff.putShort((short) 1).putShort((short) 2).putInt(2).put((byte) 'N').put((byte) 0).putShort((short) 0);
		tiff.putShort((short) 2).putShort((short) 5).putInt(3).putInt(latitudeAt);
		tiff.putInt(0);
		tiff.position(latitudeAt).putInt(33).putInt(1).putInt(30).putInt(1).putInt(0).putInt(1);
		ByteBuffer exif = ByteBuffer.allocate(6 + tiff.capacity());
		exif.put("Exif".getBytes(StandardCharsets.US_ASCII)).putShort((short) 0).put(tiff.array());
		return exif.array();
	}

}
