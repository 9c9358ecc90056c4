package seasonfile

import (
	"fmt"
	"strings"

	"github.com/google/uuid"

	"fieldjacket/pipeline/register"
)

// New is the season.toml of a new season with an identifier of its own, which is random (RFC 9562, version 4).
func New() string {
	const name = "name = \"New season\"\n"
	before, after, _ := strings.Cut(Empty, name)
	return before + name + "\n" + UUIDLines() + after
}

// UUIDLines are the lines of season.toml that give a season a new identifier, different at each call.
func UUIDLines() string {
	return "# Names this season, and through it its finds, jackets, photos and plates, in every export for good. Never change it, and do not\n" +
		"# copy it into another season.\n" + fmt.Sprintf("uuid = %q\n", uuid.NewString())
}

// uuidOf is the season's identifier in its usual form; "": none that can be read is given.
func uuidOf(typed string, fault func(line int, key, value, allowed, lost string)) string {
	if typed == "" {
		return ""
	}
	id, err := uuid.Parse(typed)
	if err != nil || id == uuid.Nil || len(typed) != len(uuid.Nil.String()) {
		fault(0, "uuid", typed, "want the identifier as fieldjacket wrote it, 36 signs such as 6f1d0c3e-9a52-4b7e-8c1f-2d3e4f5a6b7c", register.LostKey)
		return ""
	}
	return id.String()
}

type collectionKeys struct {
	InstitutionCode string `toml:"institution_code"`
	CollectionCode  string `toml:"collection_code"`
	RightsHolder    string `toml:"rights_holder"`
	Licence         string `toml:"licence"`
}

func (k collectionKeys) of() register.Collection {
	return register.Collection{
		InstitutionCode: register.Tidy(k.InstitutionCode), CollectionCode: register.Tidy(k.CollectionCode),
		RightsHolder: register.Tidy(k.RightsHolder), Licence: register.Tidy(k.Licence),
	}
}

// orcidOf is a person's ORCID iD without its address, held against its check digit (ISO/IEC 7064:2003, MOD 11-2, as ORCID,
// "Structure of the ORCID Identifier", says); "": none that can be read is given.
func orcidOf(initials, typed string, fault func(line int, key, value, allowed, lost string)) string {
	id := strings.TrimSpace(typed)
	for _, before := range []string{"https://orcid.org/", "http://orcid.org/", "orcid.org/"} {
		id = strings.TrimPrefix(id, before)
	}
	if id == "" {
		return ""
	}
	groups, sum := strings.Split(id, "-"), 0
	plain := strings.Join(groups, "")
	good := len(groups) == 4 && len(plain) == 16
	for i, c := range plain {
		switch {
		case i == 15:
			check := (12 - sum%11) % 11
			good = good && (check == 10 && c == 'X' || check < 10 && c == rune('0'+check))
		case c < '0' || c > '9':
			good = false
		default:
			sum = (sum + int(c-'0')) * 2 % 11
		}
	}
	for _, g := range groups {
		good = good && len(g) == 4
	}
	if !good {
		fault(0, "people."+initials+" orcid", typed, "want an ORCID iD such as 0000-0002-1825-0097, whose last sign checks the others", register.LostKey)
		return ""
	}
	return id
}
