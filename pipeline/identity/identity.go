package identity

import (
	"errors"
	"slices"
	"strings"

	"github.com/google/uuid"

	"fieldjacket/pipeline/register"
)

// ErrNoUUID says that season.toml gives the season no identifier.
var ErrNoUUID = errors.New("season.toml has no uuid, by which exports name the season's finds, photos and plates for good")

// Names are those of one season.
type Names struct {
	season  uuid.UUID
	finds   map[string]uuid.UUID // by field number
	jackets map[string]uuid.UUID // by number

	// Shared are finds and jackets whose first number is another's too, which a split leaves: the number of now is in their names as
	// well, so that they are told apart.
	Shared []string
}

// Of gives the names of a season; the error is [ErrNoUUID].
func Of(sheets *register.Register) (*Names, error) {
	season, err := uuid.Parse(sheets.Season.UUID)
	if err != nil {
		return nil, ErrNoUUID
	}
	n := &Names{season: season, finds: map[string]uuid.UUID{}, jackets: map[string]uuid.UUID{}}
	var finds, jackets []numbered
	for _, f := range sheets.Finds {
		finds = append(finds, origin(season, f.FieldNumber, f.Formerly, carriedFind(sheets, f.FieldNumber)))
	}
	for _, j := range sheets.Jackets {
		jackets = append(jackets, origin(season, j.Number, j.Formerly, j.Carried))
	}
	n.name("find", finds, n.finds)
	n.name("jacket", jackets, n.jackets)
	return n, nil
}

// A numbered is a find or a jacket with the season and the number that it began with.
type numbered struct {
	now, first string
	season     uuid.UUID
}

// origin follows what was carried over back to the season that it began in, as far as those seasons have an identifier.
func origin(season uuid.UUID, now string, formerly []string, carried *register.Carried) numbered {
	out := numbered{now: now, first: now, season: season}
	if len(formerly) > 0 {
		out.first = formerly[0]
	}
	for number := now; carried != nil; carried = carried.Before {
		for then, renamed := range carried.Now {
			if renamed == number {
				number = then
				break
			}
		}
		id, err := uuid.Parse(carried.Season.UUID)
		if err != nil {
			break
		}
		out.season, out.first = id, number
		for _, f := range carried.Finds {
			if f.FieldNumber == number && len(f.Formerly) > 0 {
				out.first = f.Formerly[0]
			}
		}
		if carried.Number == number && len(carried.Jacket.Formerly) > 0 {
			out.first = carried.Jacket.Formerly[0]
		}
	}
	return out
}

func carriedFind(sheets *register.Register, number string) *register.Carried {
	for _, j := range sheets.Jackets {
		if c := j.Carried; c != nil && slices.ContainsFunc(c.Finds, func(f register.Find) bool { return c.NowIs(f.FieldNumber) == number }) {
			return c
		}
	}
	return nil
}

// name gives each thing the name of its first number. Where several share that, the one that has it still keeps the bare name, and
// the others' have their number of now in them.
func (n *Names) name(kind string, all []numbered, into map[string]uuid.UUID) {
	for _, a := range all {
		text := kind + " " + a.first
		shared := slices.ContainsFunc(all, func(b numbered) bool { return b.now != a.now && b.first == a.first && b.season == a.season })
		if shared && a.now != a.first {
			text += " / " + a.now
			n.Shared = append(n.Shared, kind+" "+a.now)
		}
		into[a.now] = uuid.NewSHA1(a.season, []byte(text))
	}
}

func urn(id uuid.UUID) string { return id.URN() }

// Season is the season's own name, "urn:uuid:...", as are the next.
func (n *Names) Season() string { return urn(n.season) }

// Find is the name of the find of a field number; "": the register has none.
func (n *Names) Find(number string) string { return known(n.finds, number) }

// Jacket is the name of the jacket of a number; "": the register has none.
func (n *Names) Jacket(number string) string { return known(n.jackets, number) }

func known(all map[string]uuid.UUID, number string) string {
	if id, ok := all[number]; ok {
		return urn(id)
	}
	return ""
}

// Photo is the name of a photo by the SHA-256 of its file; "" without one.
func (n *Names) Photo(sha256 string) string {
	if sha256 == "" {
		return ""
	}
	return n.Other("photo", sha256)
}

// Plate is the name of a plate by its photo, its jacket, its view, and what tells it from others of these ("mirrored", "relief").
func (n *Names) Plate(sha256, jacket string, view register.View, kind string) string {
	of := n.Jacket(jacket)
	if of == "" {
		of = jacket
	}
	return n.Other("plate", sha256, of, string(view), kind)
}

// Other is the name of something else by all that tells it apart.
func (n *Names) Other(parts ...string) string {
	return urn(uuid.NewSHA1(n.season, []byte(strings.Join(parts, "\x00"))))
}
