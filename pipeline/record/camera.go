package record

import (
	"fmt"
	"path/filepath"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/intake"
)

// Camera is what the photo tells of its camera.
func (r *Record) Camera() calibrate.Camera {
	c := calibrate.Camera{WidthPx: r.Photo.WidthPx, HeightPx: r.Photo.HeightPx}
	if r.Capture != nil && r.Capture.Focal35Mm != nil && !r.Shaped(intake.Panorama, intake.Cropped) {
		c.Focal35Mm = *r.Capture.Focal35Mm
	}
	return c
}

// Shaped tells whether the picture is of one of the kinds whose geometry is
// in doubt.
func (r *Record) Shaped(kinds ...intake.ShapeKind) bool {
	c := r.Capture
	return c != nil && c.Shape != nil && slices.Contains(kinds, c.Shape.Kind)
}

// Source is the photo below a folder as a vision child is told of it.
func (r *Record) Source(folder string) look.Source {
	p := r.Photo
	s := look.Source{
		Path:        filepath.Join(folder, filepath.FromSlash(p.File)),
		SHA256:      p.SHA256,
		Format:      p.Format,
		Orientation: p.Orientation,
		WidthPx:     p.WidthPx,
		HeightPx:    p.HeightPx,
		MaxPixels:   intake.MaxPixels,
	}
	s.Focal35Mm = r.Camera().Focal35Mm
	return s
}

// Taken is the phone's clock at the shot, with its offset where given.
func (r *Record) Taken() string {
	if r.When == nil {
		return ""
	}
	text := r.When.Local.Format("2006-01-02 15:04:05")
	if r.When.OffsetMin != nil {
		sign, m := '+', *r.When.OffsetMin
		if m < 0 {
			sign, m = '-', -m
		}
		text += fmt.Sprintf(" %c%02d:%02d", sign, m/60, m%60)
	}
	return text
}
