//go:build cgo

package imagefile

/*
#cgo pkg-config: libjpeg
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <jpeglib.h>

#ifndef JCS_EXTENSIONS
#error "the JPEG library knows no BGR: libjpeg-turbo is wanted"
#endif

struct fault { struct jpeg_error_mgr base; jmp_buf back; };
static void give_up(j_common_ptr c) { longjmp(((struct fault *)c->err)->back, 1); }
static void say_nothing(j_common_ptr c) {}
static struct jpeg_error_mgr *quiet(struct fault *f) {
	struct jpeg_error_mgr *e = jpeg_std_error(&f->base);
	e->error_exit = give_up;
	e->output_message = say_nothing;
	return e;
}

// 1: every pixel was decoded without a word; 0: something is unusual or wrong.
static int jpeg_to_bgr(const unsigned char *file, size_t n, unsigned char *bgr, int width, int height) {
	struct jpeg_decompress_struct c;
	struct fault f;
	c.err = quiet(&f);
	if (setjmp(f.back)) {
		jpeg_destroy_decompress(&c);
		return 0;
	}
	jpeg_create_decompress(&c);
	jpeg_mem_src(&c, file, n);
	jpeg_read_header(&c, TRUE);
	int usual = c.jpeg_color_space == JCS_YCbCr && c.image_width == width && c.image_height == height;
	if (usual) {
		c.out_color_space = JCS_EXT_BGR;
		jpeg_start_decompress(&c);
		while (c.output_scanline < c.output_height) {
			JSAMPROW row = bgr + 3 * (size_t)width * c.output_scanline;
			jpeg_read_scanlines(&c, &row, 1);
		}
		jpeg_finish_decompress(&c);
		usual = f.base.num_warnings == 0;
	}
	jpeg_destroy_decompress(&c);
	return usual;
}

// space is that of the pixels; *file is to be freed. 0: no memory was left, and then there is no file.
static int pixels_to_jpeg(const unsigned char *pixels, int space, int bytes, int width, int height, int quality, unsigned char **file, unsigned long *n) {
	struct jpeg_compress_struct c;
	struct fault f;
	c.err = quiet(&f);
	if (setjmp(f.back)) {
		jpeg_destroy_compress(&c);
		*file = 0; // the library may have freed it
		return 0;
	}
	jpeg_create_compress(&c);
	jpeg_mem_dest(&c, file, n);
	c.image_width = width;
	c.image_height = height;
	c.input_components = bytes;
	c.in_color_space = space;
	jpeg_set_defaults(&c);
	jpeg_set_quality(&c, quality, TRUE);
	jpeg_start_compress(&c, TRUE);
	while (c.next_scanline < c.image_height) {
		JSAMPROW row = (JSAMPROW)pixels + (size_t)bytes * width * c.next_scanline;
		jpeg_write_scanlines(&c, &row, 1);
	}
	jpeg_finish_compress(&c);
	jpeg_destroy_compress(&c);
	return 1;
}
*/
import "C"

import (
	"errors"
	"unsafe"

	"gocv.io/x/gocv"
)

// decodeJPEG gives a photo's pixels (BGR, 8 bit) as OpenCV does, which asks the same library but turns every pixel from RGB
// once more. false: the file is not of the usual colours, not of the size that is expected, or not flawless, and OpenCV may
// make of it what it can.
func decodeJPEG(file []byte, widthPx, heightPx int) (gocv.Mat, bool) {
	out := gocv.NewMatWithSize(heightPx, widthPx, gocv.MatTypeCV8UC3)
	pixels, err := out.DataPtrUint8()
	if err != nil || len(pixels) != 3*widthPx*heightPx || len(pixels) == 0 ||
		C.jpeg_to_bgr((*C.uchar)(&file[0]), C.size_t(len(file)), (*C.uchar)(&pixels[0]), C.int(widthPx), C.int(heightPx)) == 0 {
		out.Close()
		return gocv.Mat{}, false
	}
	return out, true
}

// encodeJPEG writes pixels in the order blue, green, red, or red, green, blue and one that does not count, as OpenCV does.
func encodeJPEG(m gocv.Mat, quality int) ([]byte, error) {
	var space, bytes C.int
	switch m.Type() {
	case gocv.MatTypeCV8UC3:
		space, bytes = C.JCS_EXT_BGR, 3
	case gocv.MatTypeCV8UC4:
		space, bytes = C.JCS_EXT_RGBX, 4
	default:
		return nil, errors.New("pixels of another kind than a JPEG is written from")
	}
	pixels, err := m.DataPtrUint8()
	if err != nil {
		return nil, err
	}
	if w, h := m.Cols(), m.Rows(); len(pixels) != int(bytes)*w*h || len(pixels) == 0 || max(w, h) > C.JPEG_MAX_DIMENSION {
		return nil, errors.New("pixels do not fill a JPEG")
	}
	var file *C.uchar
	var n C.ulong
	ok := C.pixels_to_jpeg((*C.uchar)(&pixels[0]), space, bytes, C.int(m.Cols()), C.int(m.Rows()), C.int(quality), &file, &n)
	defer C.free(unsafe.Pointer(file))
	if ok == 0 || file == nil {
		return nil, errors.New("nothing was encoded")
	}
	return C.GoBytes(unsafe.Pointer(file), C.int(n)), nil
}
