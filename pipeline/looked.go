package pipeline

import (
	"context"

	"fieldjacket/pipeline/record"
)

// The steps of package observe.

func read(t *task, ctx context.Context) error { return t.see.Read(ctx) }

func lookReads(t *task) any                          { return t.see.LookReads() }
func lookStands(t *task) bool                        { return t.see.LookStands() }
func lookAtPhoto(t *task, ctx context.Context) error { return t.see.Look(ctx) }

func refineReads(t *task) any                   { return t.see.RefineReads(t.photo.Evidence.Manual()) }
func refineStands(t *task) bool                 { return t.see.RefineStands() }
func refine(t *task, ctx context.Context) error { return t.see.Refine(ctx, *t.photo.Evidence.Manual()) }

func drawReads(t *task) any   { return t.see.DrawReads(t.composed) }
func drawStands(t *task) bool { return t.see.DrawStands() }

func draw(t *task, ctx context.Context) error {
	drawn, err := t.see.DrawPlates(ctx, t.composed)
	t.drawn += drawn
	return err
}

// tell gives the plates that stand from an earlier run what they say.
func (t *task) tell() {
	if t.composed == nil && len(t.r.Plates) > 0 { // it did not come to be drawn
		t.compose()
	}
	for i, p := range t.r.Plates {
		if made, ok := record.PlateIn(t.composed, p.File); ok {
			made.Key = p.Key
			t.r.Plates[i] = made
		}
	}
}
