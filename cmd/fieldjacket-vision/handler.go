//go:build cgo

package main

import (
	"errors"
	"fmt"
	"image"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/vision"
	"fieldjacket/overlay"
)

// A handler answers requests. It holds the photo that was decoded last.
type handler struct {
	source  look.Source
	picture *vision.Picture
}

// answer does what one request asks.
func (h *handler) answer(r look.Request) (look.Reply, error) {
	switch {
	case r.Hello != nil:
		if r.Hello.Protocol != look.Protocol {
			return look.Reply{}, fmt.Errorf("protocol %d asked for, this program speaks %d: install both programs of one version", r.Hello.Protocol, look.Protocol)
		}
		return look.Reply{Hello: &look.HelloReply{Protocol: look.Protocol, OpenCV: vision.OpenCV(), Files: loaded(), Libraries: libraries()}}, nil
	case r.Look != nil:
		return h.look(r.Look)
	case r.Refine != nil:
		p, err := h.open(r.Refine.Source)
		if err != nil {
			return look.Reply{}, err
		}
		if r.Refine.Ready {
			vision.Ready(p)
			return look.Reply{Refine: &look.RefineReply{}}, nil
		}
		return look.Reply{Refine: &look.RefineReply{Found: vision.Refine(p, r.Refine.Reference, r.Refine.Corners, r.Refine.PickPx)}}, nil
	case r.Draw != nil:
		return h.draw(r.Draw)
	case r.Depth != nil:
		reply, err := vision.Depth(r.Depth, h.open)
		return look.Reply{Depth: reply}, err
	}
	return look.Reply{}, errors.New("request asks nothing that this program knows")
}

func (h *handler) look(r *look.LookRequest) (look.Reply, error) {
	p, err := h.open(r.Source)
	if err != nil {
		return look.Reply{}, err
	}
	if r.Preview != "" {
		if err := vision.Preview(p, r.Preview, r.Small); err != nil {
			return look.Reply{}, fmt.Errorf("preview: %w", err)
		}
	}
	p.Telling = r.Considered
	width, height := p.Size()
	reply := look.LookReply{WidthPx: width, HeightPx: height, Found: vision.Look(p, r.References, r.Seed)}
	asked := slices.ContainsFunc(r.References, func(ref calibrate.Reference) bool { return ref.Kind == calibrate.KindCard })
	scaled := slices.ContainsFunc(reply.Found, func(f look.Found) bool { return f.Marks != nil })
	if asked || r.Placards && !scaled { // else a card that nobody named may be why there is no scale
		reply.Codes = vision.Codes(p)
	}
	reply.Codes = append(reply.Codes, vision.InMirror(p)...)
	if r.Placards {
		reply.Codes = append(reply.Codes, vision.Placards(p)...)
	}
	if reply.Content, err = vision.ContentOf(p); err != nil {
		return look.Reply{}, fmt.Errorf("content: %w", err)
	}
	return look.Reply{Look: &reply}, nil
}

func (h *handler) draw(r *look.DrawRequest) (look.Reply, error) {
	p, err := h.open(r.Source)
	if err != nil {
		return look.Reply{}, err
	}
	picture, frame := r.Plate.Picture, overlay.Arrange(r.Plate)
	if r.Overlay != nil {
		picture, frame = r.Overlay.Picture, overlay.ArrangeFound(*r.Overlay)
	}
	if r.Bare {
		frame.Size = image.Pt(picture.WidthPx, picture.HeightPx)
		frame.Picture = image.Rectangle{Max: frame.Size}
	}
	canvas, err := vision.Rectify(p, picture, frame.Size, frame.Picture)
	if err != nil {
		return look.Reply{}, err
	}
	defer canvas.Close()
	if under := r.Plate.Under; under != nil && !r.Bare && r.Overlay == nil {
		if err := layOver(canvas, r.Under, *under, frame.Picture); err != nil {
			return look.Reply{}, fmt.Errorf("earlier picture: %w", err)
		}
	}
	switch {
	case r.Bare:
	case r.Overlay != nil:
		canvas.Comment = look.OverlayComment
		err = overlay.DrawFound(canvas.Image, *r.Overlay)
	default:
		err = overlay.Draw(canvas.Image, r.Plate)
	}
	if err != nil {
		return look.Reply{}, err
	}
	if err := canvas.Encode(p, r.Out, r.Format, picture.PrintDPI); err != nil {
		return look.Reply{}, err
	}
	return look.Reply{Draw: &look.DrawReply{WidthPx: frame.Size.X, HeightPx: frame.Size.Y}}, nil
}

// layOver lays a plate's earlier picture over the canvas. Its photo is not
// kept.
func layOver(canvas *vision.Canvas, source *look.Source, picture look.Picture, at image.Rectangle) error {
	if source == nil {
		return errors.New("the request names no photo for it")
	}
	p, err := vision.Open(*source)
	if err != nil {
		return err
	}
	defer p.Close()
	return canvas.Lay(p, picture, at)
}

// open gives the photo, decoded now or by the request before.
func (h *handler) open(s look.Source) (*vision.Picture, error) {
	if h.picture != nil && h.source == s {
		return h.picture, nil
	}
	h.close()
	p, err := vision.Open(s)
	if err != nil {
		return nil, err
	}
	h.source, h.picture = s, p
	return p, nil
}

func (h *handler) close() {
	if h.picture != nil {
		h.picture.Close()
		h.picture = nil
	}
}
