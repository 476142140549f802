package org.meniscus.visit;

import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.AffineTransform;
import java.awt.image.AffineTransformOp;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.Iterator;
import java.util.concurrent.Semaphore;

import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageReadParam;
import javax.imageio.ImageReader;
import javax.imageio.ImageWriteParam;
import javax.imageio.ImageWriter;
import javax.imageio.stream.ImageInputStream;
import javax.imageio.stream.MemoryCacheImageInputStream;
import javax.imageio.stream.MemoryCacheImageOutputStream;

import org.meniscus.platform.TenantContext;
import org.springframework.stereotype.Component;

/**
 * Makes a photo out of whatever file was sent: decoded, turned upright, made small, written anew as JPEG. Place, camera and
 * every other word in the file stay behind, because only the picture is taken over.
 */
@Component
public class PhotoProcessor {

	/** Longest side of a stored photo, pixels. */
	public static final int MAX_SIDE = 1600;

	/** Files above this are not even looked at, bytes. */
	public static final int MAX_FILE_BYTES = 12 * 1024 * 1024;

	/** A picture that claims more than this is refused before it is unpacked: a small file can claim any size. */
	private static final long MAX_PIXELS = 60_000_000;

	private static final float JPEG_QUALITY = 0.82f;

	/** Unpacked pictures are large: few at a time, whoever sends them. */
	private final Semaphore concurrency = new Semaphore(2, true);

	/** Why a file is no photo. */
	public enum PhotoFault {

		/** Nothing that can be read as JPEG, PNG, GIF or BMP. */
		NOT_A_PICTURE,
		/** Too many bytes or pixels. */
		TOO_LARGE

	}

	/** Refused; says why as data. */
	public static class PhotoRejected extends Exception {

		private final PhotoFault fault;

		PhotoRejected(PhotoFault fault) {
			super(fault.name());
			this.fault = fault;
		}

		public PhotoFault fault() {
			return fault;
		}

	}

	/** @throws NotAPhoto when it is no picture, or claims to be a huge one */
	public NewVisit.Photo process(byte[] file) throws PhotoRejected {
		if (file.length > MAX_FILE_BYTES) {
			throw new PhotoRejected(PhotoFault.TOO_LARGE);
		}
		concurrency.acquireUninterruptibly();
		try {
			BufferedImage upright = scaleDown(rotateUpright(decode(file), ExifOrientation.of(file)));
			return new NewVisit.Photo(encodeJpeg(upright), upright.getWidth(), upright.getHeight(), TenantContext.sha256(file));
		}
		catch (IOException | RuntimeException ex) {
			// readers throw all sorts of things at broken files
			throw new PhotoRejected(PhotoFault.NOT_A_PICTURE);
		}
		finally {
			concurrency.release();
		}
	}

	private static BufferedImage decode(byte[] file) throws IOException, PhotoRejected {
		try (ImageInputStream input = new MemoryCacheImageInputStream(new ByteArrayInputStream(file))) {
			Iterator<ImageReader> readers = ImageIO.getImageReaders(input);
			if (!readers.hasNext()) {
				throw new PhotoRejected(PhotoFault.NOT_A_PICTURE);
			}
			ImageReader reader = readers.next();
			try {
				// metadata ignored: it can hold a bomb of its own
				reader.setInput(input, true, true);
				long width = reader.getWidth(0);
				long height = reader.getHeight(0);
				if (width * height > MAX_PIXELS) {
					throw new PhotoRejected(PhotoFault.TOO_LARGE);
				}
				ImageReadParam param = reader.getDefaultReadParam();
				int every = (int) Math.max(1, Math.max(width, height) / (2 * MAX_SIDE));
				param.setSourceSubsampling(every, every, 0, 0);
				return reader.read(0, param);
			}
			finally {
				reader.dispose();
			}
		}
	}

	/** On plain RGB, whatever it was before; transparency becomes white. */
	private static BufferedImage rotateUpright(BufferedImage image, ExifOrientation orientation) {
		BufferedImage plain = new BufferedImage(image.getWidth(), image.getHeight(), BufferedImage.TYPE_INT_RGB);
		Graphics2D canvas = plain.createGraphics();
		canvas.drawImage(image, 0, 0, java.awt.Color.WHITE, null);
		canvas.dispose();
		AffineTransform turn = orientation.upright(plain.getWidth(), plain.getHeight());
		if (turn.isIdentity()) {
			return plain;
		}
		boolean swapped = orientation.swapsSides();
		BufferedImage turned = new BufferedImage(swapped ? plain.getHeight() : plain.getWidth(),
				swapped ? plain.getWidth() : plain.getHeight(), BufferedImage.TYPE_INT_RGB);
		return new AffineTransformOp(turn, AffineTransformOp.TYPE_NEAREST_NEIGHBOR).filter(plain, turned);
	}

	private static BufferedImage scaleDown(BufferedImage image) {
		int longest = Math.max(image.getWidth(), image.getHeight());
		if (longest <= MAX_SIDE) {
			return image;
		}
		double scale = (double) MAX_SIDE / longest;
		int width = Math.max(1, (int) Math.round(image.getWidth() * scale));
		int height = Math.max(1, (int) Math.round(image.getHeight() * scale));
		BufferedImage small = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
		Graphics2D canvas = small.createGraphics();
		canvas.setRenderingHint(RenderingHints.KEY_INTERPOLATION, RenderingHints.VALUE_INTERPOLATION_BICUBIC);
		canvas.drawImage(image, 0, 0, width, height, null);
		canvas.dispose();
		return small;
	}

	private static byte[] encodeJpeg(BufferedImage image) throws IOException {
		ImageWriter writer = ImageIO.getImageWritersByFormatName("jpeg").next();
		ByteArrayOutputStream bytes = new ByteArrayOutputStream();
		try (MemoryCacheImageOutputStream output = new MemoryCacheImageOutputStream(bytes)) {
			ImageWriteParam param = writer.getDefaultWriteParam();
			param.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
			param.setCompressionQuality(JPEG_QUALITY);
			writer.setOutput(output);
			writer.write(null, new IIOImage(image, null, null), param);
		}
		finally {
			writer.dispose();
		}
		return bytes.toByteArray();
	}

}
