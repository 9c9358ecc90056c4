package carryover

import (
	"encoding/json"
	"os"
	"path/filepath"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
)

// Pictures are what a carried jacket keeps for the paper. Paths are slash
// paths in its folder, "" where there is no such file.
type Pictures struct {
	Audit  audit.Jacket      `json:"Audit"`
	Plates []paperwork.Plate `json:"Plates"`
	Files  []paperwork.File  `json:"Files"`
}

// Packet is the packet of a carried jacket as its season had it. What
// may be printed of positions is this season's to say. A picture that is no
// longer there is a problem and left out.
func Packet(c register.Carried, print register.Print) (p *paperwork.Packet, problems []register.Problem) {
	fault := func(allowed, lost string) {
		problems = append(problems, register.Problem{File: register.EarlierFolder + ", " + c.From, Value: c.Number, Allowed: allowed, Lost: lost})
	}
	var kept Pictures
	if err := json.Unmarshal(c.Pictures, &kept); err != nil {
		fault("its pictures cannot be read: "+err.Error()+"; bring the jacket over again", "what it says of pictures")
	}
	p = &paperwork.Packet{
		From: c.From, Words: c.Words, Season: c.Season, Jacket: c.Jacket, Finds: c.Finds, SetUps: c.SetUps, Diary: c.Diary,
		Audit: kept.Audit, Files: kept.Files,
	}
	p.Season.Print = print
	for _, plate := range kept.Plates {
		missing := ""
		for _, file := range []*string{&plate.Path, &plate.Preview, &plate.Small} {
			if *file == "" {
				continue
			}
			name := *file
			*file = filepath.Join(c.Folder, filepath.FromSlash(name))
			if _, err := os.Stat(*file); err != nil || !filepath.IsLocal(filepath.FromSlash(name)) {
				missing, *file = name, ""
			}
		}
		if missing != "" {
			fault(missing+" is not there: bring the jacket over again", register.LostNothing)
		}
		if plate.Path != "" {
			p.Plates = append(p.Plates, plate)
		}
	}
	if c.Before != nil {
		before, more := Packet(*c.Before, print)
		p.Before, problems = before, append(problems, more...)
	}
	return p, problems
}
