//go:build cgo

package imagefile

/*
#cgo pkg-config: libheif libde265
#include <stdlib.h>
#include <libheif/heif.h>
#include "hevc.h"

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
static const char *profile(struct heif_image_handle *h, void *out) {
	return fault(heif_image_handle_get_raw_color_profile(h, out));
}
*/
import "C"

import (
	"fmt"
	"runtime"
	"strings"
	"sync"
	"unsafe"

	"gocv.io/x/gocv"
)

// askForDamage puts a decoder that looks for damage before libheif's own. A libheif that does not take it
// decodes as ever.
var askForDamage = sync.OnceFunc(func() { C.fj_ask_for_damage() })

// decodeHEIF gives the main picture of a HEIF file, upright as the file itself says (tiles joined, turned, mirrored, cropped),
// and its ICC profile. The declared size is held against maxPixels before anything is decoded; 0: no limit. It
// fails with [ErrDamaged] where a tile does not end as it was coded.
func decodeHEIF(file []byte, maxPixels int64) (gocv.Mat, []byte, error) {
	none := gocv.Mat{}
	said := func(c *C.char) error {
		words := C.GoString(c)
		if strings.HasSuffix(words, C.FJ_DAMAGED) {
			return ErrDamaged
		}
		return fmt.Errorf("%w (%s)", ErrNotDecoded, words)
	}
	askForDamage()

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
	var image *C.struct_heif_image
	if words := C.decode(handle, &image); words != nil {
		return none, nil, said(words)
	}
	defer C.heif_image_release(image)
	var stride C.int
	plane := C.heif_image_get_plane_readonly(image, C.heif_channel_interleaved, &stride)
	if plane == nil || int(C.heif_image_get_width(image, C.heif_channel_interleaved)) != widthPx ||
		int(C.heif_image_get_height(image, C.heif_channel_interleaved)) != heightPx || int(stride) < 3*widthPx {
		return none, nil, ErrNotDecoded
	}
	rows := unsafe.Slice((*byte)(unsafe.Pointer(plane)), int(stride)*(heightPx-1)+3*widthPx)
	if int(stride) > 3*widthPx {
		joined := make([]byte, 3*widthPx*heightPx)
		for y := range heightPx {
			copy(joined[3*widthPx*y:3*widthPx*(y+1)], rows[int(stride)*y:])
		}
		rows = joined
	}
	rgb, err := gocv.NewMatFromBytes(heightPx, widthPx, gocv.MatTypeCV8UC3, rows) // over the bytes where they are
	if err != nil {
		return none, nil, err
	}
	defer rgb.Close()
	out := gocv.NewMat()
	gocv.CvtColor(rgb, &out, gocv.ColorBGRToRGB) // libheif gives red first; in place OpenCV would copy all once more
	return out, heifProfile(handle), nil
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
