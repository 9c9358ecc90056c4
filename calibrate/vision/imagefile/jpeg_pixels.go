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

struct fault {
	struct jpeg_error_mgr base;
	struct jpeg_progress_mgr progress;
	jmp_buf back;
	int coded;     // the picture's own bytes are being read
	int most_scans; // of a progressive picture
};
static void give_up(j_common_ptr c) { longjmp(((struct fault *)c->err)->back, 1); }
static void say_nothing(j_common_ptr c) {}

// The library warns of what it passes over. Between segments that is harmless, in the picture's own bytes it is not: every
// warning there says that too few, too many or impossible bytes stood for the blocks.
static void count(j_common_ptr c, int level) {
	if (level < 0 && ((struct fault *)c->err)->coded)
		c->err->num_warnings++;
}
static void count_scans(j_common_ptr c) {
	if (((j_decompress_ptr)c)->input_scan_number > ((struct fault *)c->err)->most_scans)
		give_up(c);
}
static struct jpeg_error_mgr *quiet(struct fault *f) {
	struct jpeg_error_mgr *e = jpeg_std_error(&f->base);
	e->error_exit = give_up;
	e->output_message = say_nothing;
	e->emit_message = count;
	f->coded = 0;
	return e;
}

struct header { int width, height, parts, unit_width, unit_height; };

// The head alone is read where there is nowhere to put pixels. 1: there was no fault, and every pixel was decoded without a
// word.
static int jpeg_pixels(const unsigned char *file, size_t n, unsigned char *pixels, struct header *h, int most_scans) {
	struct jpeg_decompress_struct c;
	struct fault f;
	c.err = quiet(&f);
	if (setjmp(f.back)) {
		jpeg_destroy_decompress(&c);
		return 0;
	}
	jpeg_create_decompress(&c);
	f.progress.progress_monitor = count_scans;
	f.most_scans = most_scans;
	c.progress = &f.progress;
	jpeg_mem_src(&c, file, n);
	jpeg_read_header(&c, TRUE);
	if (pixels) {
		f.coded = 1;
		c.out_color_space = h->parts == 4 ? JCS_CMYK : JCS_EXT_BGR;
		jpeg_start_decompress(&c);
		while (c.output_scanline < c.output_height) {
			JSAMPROW row = pixels + (size_t)(h->parts == 4 ? 4 : 3) * c.output_width * c.output_scanline;
			jpeg_read_scanlines(&c, &row, 1);
		}
		jpeg_finish_decompress(&c);
	}
	h->width = c.image_width;
	h->height = c.image_height;
	h->parts = c.num_components;
	h->unit_width = 8;
	h->unit_height = 8;
	if (c.num_components > 1)
		for (int i = 0; i < c.num_components; i++) {
			if (8 * c.comp_info[i].h_samp_factor > h->unit_width) h->unit_width = 8 * c.comp_info[i].h_samp_factor;
			if (8 * c.comp_info[i].v_samp_factor > h->unit_height) h->unit_height = 8 * c.comp_info[i].v_samp_factor;
		}
	jpeg_destroy_decompress(&c);
	return f.base.num_warnings == 0;
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
	"fmt"
	"unsafe"

	"gocv.io/x/gocv"
)

// mostScans is how many passes over the picture are read: a progressive photo has some ten (T.81, annex G), and each takes
// the time of a whole one.
const mostScans = 100

// decodeJPEG gives a photo's pixels (BGR, 8 bit) as OpenCV does, which asks the same library but turns every pixel from RGB
// once more, and keeps to itself what the library has to say of damage.
func decodeJPEG(file []byte, widthPx, heightPx int) (gocv.Mat, error) {
	none := gocv.Mat{}
	var h C.struct_header
	if C.jpeg_pixels((*C.uchar)(&file[0]), C.size_t(len(file)), nil, &h, mostScans) == 0 {
		return none, ErrNotDecoded
	}
	if int(h.width) != widthPx || int(h.height) != heightPx {
		return none, fmt.Errorf("%w: it declares %d x %d px in one place and %d x %d in another", ErrNotDecoded, widthPx, heightPx, h.width, h.height)
	}
	kind := gocv.MatTypeCV8UC3
	if h.parts == 4 {
		kind = gocv.MatTypeCV8UC4
	}
	out := gocv.NewMatWithSize(heightPx, widthPx, kind)
	pixels, err := out.DataPtrUint8()
	switch {
	case err != nil || len(pixels) == 0 || len(pixels) != out.Channels()*widthPx*heightPx:
		err = ErrNotDecoded
	case C.jpeg_pixels((*C.uchar)(&file[0]), C.size_t(len(file)), (*C.uchar)(&pixels[0]), &h, mostScans) == 0:
		err = ErrDamaged
	case h.parts == 4:
		return fromInk(out, pixels), nil
	case torn(pixels, widthPx, heightPx, mcuSize{int(h.unit_width), int(h.unit_height)}):
		err = ErrDamaged
	}
	if err != nil {
		out.Close()
		return none, err
	}
	return out, nil
}

// fromInk makes of cyan, magenta, yellow and black (as Adobe stores them, 255 for none) what OpenCV makes of them; it closes
// what it is given.
func fromInk(inks gocv.Mat, pixels []byte) gocv.Mat {
	defer inks.Close()
	out := gocv.NewMatWithSize(inks.Rows(), inks.Cols(), gocv.MatTypeCV8UC3)
	bgr, err := out.DataPtrUint8()
	if err != nil {
		return out
	}
	for i := range len(pixels) / 4 {
		black := int(pixels[4*i+3])
		for c := range 3 {
			bgr[3*i+2-c] = uint8(black - (255-int(pixels[4*i+c]))*black>>8)
		}
	}
	return out
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
