package pipeline

import "context"

// The steps of package observe, for a task.

func (t *task) read(ctx context.Context) error { return t.see.Read(ctx) }

func (t *task) lookReads() any                 { return t.see.LookReads() }
func (t *task) lookStands() bool               { return t.see.LookStands() }
func (t *task) look(ctx context.Context) error { return t.see.Look(ctx) }

func (t *task) refineReads() any                 { return t.see.RefineReads(t.p.Manual()) }
func (t *task) refineStands() bool               { return t.see.RefineStands() }
func (t *task) refine(ctx context.Context) error { return t.see.Refine(ctx, *t.p.Manual()) }
