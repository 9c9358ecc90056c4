package offload

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// An Into says what is copied off a phone or card.
type Into struct {
	From   string // the folder at which it is mounted; only read
	As     string // the folder below photos/
	Second string // a drive's folder that gets the same; "": none
}

// CopyInto takes photos, films and sidecars off a phone into a season's photos/, and into a second place below the season's name, and keeps what
// was verified for the check and the days' pages. The error says that nothing was done, that ctx has ended, or
// that what lies in photos/ now could not be told of: what was verified is kept all the same.
func CopyInto(ctx context.Context, dir folder.Dir, season register.Season, o Into, show Progress) (r Result, t Summary, err error) {
	if err := canCopyAs(dir, o.As); err != nil {
		return r, t, err
	}
	from, err := Open(o.From)
	if err != nil {
		return r, t, err
	}
	to := []Place{{Dir: filepath.Join(dir.Photos(), o.As)}}
	if o.Second != "" {
		here, err := filepath.Abs(string(dir))
		if err != nil {
			return r, t, err
		}
		drive, err := filepath.Abs(o.Second)
		if err != nil {
			return r, t, err
		}
		to = append(to, Place{Name: filepath.Base(drive), Dir: filepath.Join(drive, filepath.Base(here), "photos", o.As), Drive: drive})
	}
	if err := apart(dir, o, to); err != nil {
		return r, t, err
	}
	unlock, err := dir.Lock()
	if err != nil {
		return r, t, err
	}
	defer unlock()
	kept, err := ReadKept(string(dir))
	if err != nil {
		return r, t, err
	}
	r, ended := Copy(ctx, from, to, show)
	if len(r.Files) == 0 && ended != nil {
		return r, t, fmt.Errorf("%s cannot be listed: %w", o.From, ended)
	}
	if len(r.Files) == 0 {
		return r, t, nil
	}
	var untold error
	if ended == nil {
		if t, err = Summarize(ctx, r, dir.Photos(), o.As, season); err != nil && ctx.Err() == nil {
			untold = err
		}
	}
	kept.Add(o.As, r, t, ended == nil) // what was verified, whatever failed after
	if err := kept.Write(string(dir)); err != nil {
		return r, t, err
	}
	return r, t, errors.Join(ended, untold)
}

// canCopyAs refuses what is no folder's name on every disk, or is another one's in capitals.
func canCopyAs(dir folder.Dir, as string) error {
	if as == "" || strings.ContainsAny(as, `/\<>:"|?*`) || strings.HasPrefix(as, ".") || strings.TrimRight(as, " .") != as || strings.TrimSpace(as) != as || record.Safe(as) == "x-"+as {
		return fmt.Errorf("--as %q: want the name of a folder below photos/, such as the initials of the phone's owner", as)
	}
	there, _ := os.ReadDir(dir.Photos()) // none yet
	for _, e := range there {
		if e.Name() != as && strings.EqualFold(e.Name(), as) {
			return fmt.Errorf("--as %s: photos/%s is there: want the same name, in the same capitals", as, e.Name())
		}
	}
	return nil
}

// apart refuses folders that lie within each other, where a copy would be copied again, or be its own second.
func apart(dir folder.Dir, o Into, to []Place) error {
	type pair struct{ a, b string }
	here := string(dir)
	pairs := []pair{{o.From, here}, {here, o.From}, {o.From, to[0].Dir}, {to[0].Dir, o.From}}
	for _, second := range to[1:] {
		pairs = append(pairs, pair{second.Drive, here}, pair{second.Drive, to[0].Dir}, pair{second.Dir, here}, pair{second.Dir, to[0].Dir},
			pair{o.From, second.Drive}, pair{second.Drive, o.From})
	}
	for _, p := range pairs {
		if folder.Inside(p.a, p.b) {
			return fmt.Errorf("%s lies within %s: want places apart", p.a, p.b)
		}
	}
	return nil
}
