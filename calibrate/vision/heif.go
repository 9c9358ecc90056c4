//go:build cgo

package vision

/*
#cgo pkg-config: libheif
#include <stdlib.h>
#include <libheif/heif.h>

// heif_error comes back by value; Go wants only its word.
static const char *fault(struct heif_error e) {
	return e.code == heif_error_Ok ? 0 : (e.message ? e.message : "unknown fault");
}
static const char *read_file(struct heif_context *c, const void *file, size_t n) {
	return fault(heif_context_read_from_memory_without_copy(c, file, n, 0));
}
static const char *main_picture(struct heif_context *c, struct heif_image_handle **h) {
	return fault(heif_context_get_primary_image_handle(c, h));
}
static const char *decode(struct heif_image_handle *h, struct heif_image **i) {
	return fault(heif_decode_image(h, i, heif_colorspace_RGB, heif_chroma_interleaved_RGB, 0));
}
static const char *decode_as_stored(struct heif_image_handle *h, struct heif_image **i) {
	return fault(heif_decode_image(h, i, heif_colorspace_undefined, heif_chroma_undefined, 0));
}

// Colours as JFIF has them (ITU-T T.871, section 7), in full range, each of
// chroma for two by two pixels: what phones write, and what libheif takes a
// picture for that says nothing.
static int like_jfif(const struct heif_image *i) {
	struct heif_color_profile_nclx *n = 0;
	if (heif_image_get_colorspace(i) != heif_colorspace_YCbCr || heif_image_get_chroma_format(i) != heif_chroma_420 ||
		heif_image_get_bits_per_pixel_range(i, heif_channel_Y) != 8 || heif_image_get_bits_per_pixel_range(i, heif_channel_Cb) != 8 ||
		heif_image_get_bits_per_pixel_range(i, heif_channel_Cr) != 8)
		return 0;
	if (heif_image_get_nclx_color_profile(i, &n).code != heif_error_Ok || !n)
		return 1;
	int like = n->full_range_flag && (n->matrix_coefficients == 5 || n->matrix_coefficients == 6); // ITU-T H.273, table 4
	heif_nclx_color_profile_free(n);
	return like;
}
static const char *profile(struct heif_image_handle *h, void *out) {
	return fault(heif_image_handle_get_raw_color_profile(h, out));
}
*/
import "C"

import (
	"fmt"
	"image"
	"runtime"
	"unsafe"

	"gocv.io/x/gocv"
)

// decodeHEIF gives the main picture of a HEIF file, upright as the file itself says (tiles joined, turned, mirrored, cropped),
// and its ICC profile. The declared size is held against maxPixels before anything is decoded; 0: no limit.
func decodeHEIF(file []byte, maxPixels int64) (gocv.Mat, []byte, error) {
	none := gocv.Mat{}
	said := func(words *C.char) error { return fmt.Errorf("%w (%s)", ErrNotDecoded, C.GoString(words)) }

	var pinned runtime.Pinner // libheif reads the file's bytes where they are
	defer pinned.Unpin()
	pinned.Pin(&file[0])
	context := C.heif_context_alloc()
	if context == nil {
		return none, nil, ErrNotDecoded
	}
	defer C.heif_context_free(context)
	C.heif_context_set_max_decoding_threads(context, 0) // in this thread: one child a core
	if words := C.read_file(context, unsafe.Pointer(&file[0]), C.size_t(len(file))); words != nil {
		return none, nil, said(words)
	}
	var handle *C.struct_heif_image_handle
	if words := C.main_picture(context, &handle); words != nil {
		return none, nil, said(words)
	}
	defer C.heif_image_handle_release(handle)
	widthPx, heightPx := int(C.heif_image_handle_get_width(handle)), int(C.heif_image_handle_get_height(handle))
	if n := int64(widthPx) * int64(heightPx); widthPx < 1 || heightPx < 1 || maxPixels > 0 && n > maxPixels {
		return none, nil, fmt.Errorf("picture of %d x %d px: more than the limit of %d pixels", widthPx, heightPx, maxPixels)
	}
	var decoded *C.struct_heif_image
	if words := C.decode_as_stored(handle, &decoded); words != nil {
		return none, nil, said(words)
	}
	defer func() { C.heif_image_release(decoded) }()
	if C.like_jfif(decoded) != 0 {
		if out, ok := fromJFIF(decoded, widthPx, heightPx); ok {
			return out, heifProfile(handle), nil
		}
		return none, nil, ErrNotDecoded
	}
	C.heif_image_release(decoded) // libheif turns other colours into RGB
	decoded = nil
	if words := C.decode(handle, &decoded); words != nil {
		return none, nil, said(words)
	}
	rgb, ok := planeOf(decoded, C.heif_channel_interleaved, widthPx, heightPx, gocv.MatTypeCV8UC3)
	if !ok {
		return none, nil, ErrNotDecoded
	}
	defer rgb.Close()
	out := gocv.NewMat()
	gocv.CvtColor(rgb, &out, gocv.ColorBGRToRGB) // libheif gives red first
	return out, heifProfile(handle), nil
}

// planeOf is a plane of a picture of an expected size, in libheif's own
// memory: it lives as long as the picture. The caller closes it.
func planeOf(decoded *C.struct_heif_image, channel C.enum_heif_channel, widthPx, heightPx int, kind gocv.MatType) (gocv.Mat, bool) {
	var stride C.int
	plane := C.heif_image_get_plane_readonly(decoded, channel, &stride)
	bytes := 1
	if kind == gocv.MatTypeCV8UC3 {
		bytes = 3
	}
	if plane == nil || int(C.heif_image_get_width(decoded, channel)) != widthPx || int(C.heif_image_get_height(decoded, channel)) != heightPx || int(stride) < bytes*widthPx {
		return gocv.Mat{}, false
	}
	rows := unsafe.Slice((*byte)(unsafe.Pointer(plane)), int(stride)*(heightPx-1)+bytes*widthPx)
	if int(stride) == bytes*widthPx {
		whole, err := gocv.NewMatFromBytes(heightPx, widthPx, kind, rows)
		return whole, err == nil
	}
	out := gocv.NewMatWithSize(heightPx, widthPx, kind)
	pixels, err := out.DataPtrUint8()
	if err != nil {
		out.Close()
		return gocv.Mat{}, false
	}
	for y := range heightPx {
		copy(pixels[bytes*widthPx*y:bytes*widthPx*(y+1)], rows[int(stride)*y:])
	}
	return out, true
}

// fromJFIF gives the pixels (BGR, 8 bit) of a picture that is like_jfif, in a
// third of the time that libheif takes, band by band so that they stay in the
// processor's cache.
func fromJFIF(decoded *C.struct_heif_image, widthPx, heightPx int) (gocv.Mat, bool) {
	luma, okY := planeOf(decoded, C.heif_channel_Y, widthPx, heightPx, gocv.MatTypeCV8UC1)
	defer luma.Close()
	cb, okB := planeOf(decoded, C.heif_channel_Cb, (widthPx+1)/2, (heightPx+1)/2, gocv.MatTypeCV8UC1)
	defer cb.Close()
	cr, okR := planeOf(decoded, C.heif_channel_Cr, (widthPx+1)/2, (heightPx+1)/2, gocv.MatTypeCV8UC1)
	defer cr.Close()
	if !okY || !okB || !okR {
		return gocv.Mat{}, false
	}
	out := gocv.NewMatWithSize(heightPx, widthPx, gocv.MatTypeCV8UC3)
	wide, joined := [2]gocv.Mat{gocv.NewMat(), gocv.NewMat()}, gocv.NewMat()
	defer wide[0].Close()
	defer wide[1].Close()
	defer joined.Close()
	for y := 0; y < heightPx; y += bandPx {
		end := min(y+bandPx, heightPx)
		rows := func(m gocv.Mat, from, to int) gocv.Mat { return m.Region(image.Rect(0, from, m.Cols(), to)) }
		to, parts := rows(out, y, end), []gocv.Mat{rows(luma, y, end)}
		for i, chroma := range []gocv.Mat{cr, cb} {
			half := rows(chroma, y/2, (end+1)/2)
			gocv.Resize(half, &wide[i], image.Pt(2*half.Cols(), 2*half.Rows()), 0, 0, gocv.InterpolationNearestNeighbor)
			half.Close()
			parts = append(parts, wide[i].Region(image.Rect(0, 0, widthPx, end-y)))
		}
		gocv.Merge(parts, &joined)
		gocv.CvtColor(joined, &to, gocv.ColorYCrCbToBGR)
		to.Close()
		for _, part := range parts {
			part.Close()
		}
	}
	return out, true
}

// heifProfile gives the picture's ICC profile; nil: it has none.
func heifProfile(handle *C.struct_heif_image_handle) []byte {
	switch C.heif_image_handle_get_color_profile_type(handle) {
	case C.heif_color_profile_type_rICC, C.heif_color_profile_type_prof:
	default:
		return nil
	}
	n := C.heif_image_handle_get_raw_color_profile_size(handle)
	if n == 0 || n > maxProfile {
		return nil
	}
	out := make([]byte, n)
	if C.profile(handle, unsafe.Pointer(&out[0])) != nil {
		return nil
	}
	return out
}
