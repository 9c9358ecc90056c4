package pipeline

import "context"

// The steps of package observe.

func read(t *task, ctx context.Context) error { return t.see.Read(ctx) }

func lookReads(t *task) any                          { return t.see.LookReads() }
func lookStands(t *task) bool                        { return t.see.LookStands() }
func lookAtPhoto(t *task, ctx context.Context) error { return t.see.Look(ctx) }

func refineReads(t *task) any                   { return t.see.RefineReads(t.p.Manual()) }
func refineStands(t *task) bool                 { return t.see.RefineStands() }
func refine(t *task, ctx context.Context) error { return t.see.Refine(ctx, *t.p.Manual()) }
