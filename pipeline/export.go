package pipeline

import (
	"bytes"
	"context"
	"io"

	"fieldjacket/pipeline/export/museum"
	"fieldjacket/pipeline/keep"
)

// ExportMuseum writes the season's archive for a collections database into a file, in place of an earlier one at most. Nothing else is
// written.
func (s *Season) ExportMuseum(ctx context.Context, file string, o museum.Options) (report museum.Report, err error) {
	if err := keep.CanReplace(file, func(content []byte) bool {
		return bytes.HasPrefix(content, []byte("PK")) && bytes.Contains(content, []byte("occurrence.txt")) && bytes.Contains(content, []byte("meta.xml"))
	}); err != nil {
		return report, err
	}
	out, err := s.exported(ctx)
	if err != nil {
		return report, err
	}
	err = keep.Write(file, 0o600, func(w io.Writer) error {
		report, err = museum.Write(ctx, w, out, o)
		return err
	})
	return report, err
}

// exported is what exports are made of: the season as a run would leave it, with the plates that stand.
func (s *Season) exported(ctx context.Context) (museum.Season, error) {
	g, err := s.gathered(ctx)
	if err != nil {
		return museum.Season{}, err
	}
	state, perDay := g.state()
	lacking := standing(g.tasks)
	return museum.Season{
		Dir: s.Dir, Sheets: s.Register, Words: s.Words, Records: state.Records, Packets: s.published(state, perDay).Packets(), Lacking: len(lacking),
	}, nil
}
