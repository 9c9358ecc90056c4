// libde265 goes on over damage and keeps a list of what it met; libheif does not ask for it. Here each HEVC picture is decoded
// by libde265 for libheif, and the list is asked for: a picture that is not whole is none.

#include <stdint.h>
#include <string.h>
#include <libde265/de265.h>
#include <libheif/heif.h>
#include <libheif/heif_plugin.h>
#include "hevc.h"

static const struct heif_error fine = {heif_error_Ok, heif_suberror_Unspecified, "Success"};
static const struct heif_error damaged = {heif_error_Decoder_plugin_error, heif_suberror_Unspecified, FJ_DAMAGED};

static const char *name(void) { return "libde265, asked for damage"; }

// libheif takes the decoder of the highest priority; its own have 100.
static int takes(enum heif_compression_format f) { return f == heif_compression_HEVC ? 1000 : 0; }

static struct heif_error begin(void **out) {
	de265_decoder_context *d = de265_new_decoder();
	if (!d) return damaged;
	*out = d;
	de265_error e = de265_start_worker_threads(d, 1);
	return de265_isOK(e) ? fine : damaged;
}

static void end(void *d) { de265_free_decoder(d); }

// push takes NAL units, each behind its length in four bytes, as libheif gives them.
static struct heif_error push(void *d, const void *data, size_t n) {
	const uint8_t *p = data;
	while (n > 0) {
		if (n < 4) return damaged;
		size_t unit = (size_t)p[0] << 24 | (size_t)p[1] << 16 | (size_t)p[2] << 8 | p[3];
		p += 4, n -= 4;
		if (unit > n) return damaged;
		if (!de265_isOK(de265_push_NAL(d, p, (int)unit, 0, 0))) return damaged;
		p += unit, n -= unit;
	}
	return fine;
}

// told copies what the picture says of its colours, by which libheif turns them where the file itself says nothing.
static void told(const struct de265_image *from, struct heif_image *to) {
	struct heif_color_profile_nclx *c = heif_nclx_color_profile_alloc();
	if (!c) return;
	c->full_range_flag = (uint8_t)de265_get_image_full_range_flag(from);
	heif_nclx_color_profile_set_color_primaries(c, (uint16_t)de265_get_image_colour_primaries(from));
	heif_nclx_color_profile_set_transfer_characteristics(c, (uint16_t)de265_get_image_transfer_characteristics(from));
	heif_nclx_color_profile_set_matrix_coefficients(c, (uint16_t)de265_get_image_matrix_coefficients(from));
	heif_image_set_nclx_color_profile(to, c);
	heif_nclx_color_profile_free(c);
}

static struct heif_error copied(const struct de265_image *from, struct heif_image **out) {
	static const enum heif_channel channels[3] = {heif_channel_Y, heif_channel_Cb, heif_channel_Cr};
	int mono = de265_get_chroma_format(from) == de265_chroma_mono;
	struct heif_error e = heif_image_create(de265_get_image_width(from, 0), de265_get_image_height(from, 0),
		mono ? heif_colorspace_monochrome : heif_colorspace_YCbCr, (enum heif_chroma)de265_get_chroma_format(from), out);
	for (int c = 0; !e.code && c < (mono ? 1 : 3); c++) {
		int w = de265_get_image_width(from, c), h = de265_get_image_height(from, c), bits = de265_get_bits_per_pixel(from, c);
		int stride, strideTo;
		e = heif_image_add_plane(*out, channels[c], w, h, bits);
		if (e.code) break;
		const uint8_t *source = de265_get_image_plane(from, c, &stride);
		uint8_t *target = heif_image_get_plane(*out, channels[c], &strideTo);
		for (int y = 0; y < h; y++)
			memcpy(target + (size_t)y * strideTo, source + (size_t)y * stride, (size_t)w * ((bits + 7) / 8));
	}
	if (!e.code) told(from, *out);
	else if (*out) { heif_image_release(*out); *out = 0; }
	return e;
}

// lost tells of a warning whether it means that what was read is not what was coded: the coded bins of an intact picture end
// where its last block does, and those of a row where the row does. Others are of threads or of what pictures do not use.
static int lost(de265_error w) {
	switch (w) {
	case DE265_WARNING_PREMATURE_END_OF_SLICE_SEGMENT:
	case DE265_WARNING_CTB_OUTSIDE_IMAGE_AREA:
	case DE265_WARNING_EOSS_BIT_NOT_SET:
	case DE265_WARNING_SLICEHEADER_INVALID:
	case DE265_WARNING_SLICE_SEGMENT_ADDRESS_INVALID:
	case DE265_WARNING_DEPENDENT_SLICE_WITH_ADDRESS_ZERO:
	case DE265_WARNING_NONEXISTING_PPS_REFERENCED:
	case DE265_WARNING_NONEXISTING_SPS_REFERENCED:
		return 1;
	default:
		return 0;
	}
}

static struct heif_error decoded(void *d, struct heif_image **out) {
	*out = 0;
	struct heif_error e = damaged;
	if (!de265_isOK(de265_flush_data(d))) return damaged;
	for (int more = 1; more;) {
		more = 0;
		if (de265_decode(d, &more) != DE265_OK) break;
		const struct de265_image *picture = de265_get_next_picture(d);
		if (!picture) continue;
		if (*out) heif_image_release(*out);
		if ((e = copied(picture, out)).code) return e;
	}
	for (de265_error w; (w = de265_get_warning(d)) != DE265_OK;)
		if (*out && lost(w)) {
			heif_image_release(*out);
			*out = 0;
		}
	return *out ? e : damaged;
}

static struct heif_decoder_plugin plugin = {
	.plugin_api_version = 1, .get_plugin_name = name, .does_support_format = takes,
	.new_decoder = begin, .free_decoder = end, .push_data = push, .decode_image = decoded,
};

int fj_ask_for_damage(void) { return heif_register_decoder_plugin(&plugin).code == heif_error_Ok; }
