package words

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// MayBeSaid tells what of a word does not exist in a season with these sheets and photos.
func (w Word) MayBeSaid(sheets *register.Register, files []string) error {
	switch w.About.Kind {
	case AboutPhoto, AboutPhotos:
		if !slices.ContainsFunc(files, w.About.Covers) {
			return fmt.Errorf("%s: no such photo below photos/: want its name, with its folder where several have that name, such as %s", w.About, example(files))
		}
	case AboutJacket:
		if err := register.KnowsJacket(sheets, w.About.Name); err != nil {
			return err
		}
	case AboutFind:
		if _, ok := sheets.Find(w.About.Name); !ok {
			return fmt.Errorf("find %s: the register has no find of that field number", w.About.Name)
		}
	case AboutSetUp:
		if _, ok := sheets.SetUp(w.About.Name); !ok {
			return fmt.Errorf("set-up %s: the register has no such set-up", w.About.Name)
		}
	}
	switch {
	case w.What == Jackets && w.Value != None:
		for n := range strings.SplitSeq(w.Value, ";") {
			if n = strings.Join(strings.Fields(n), " "); n != "" {
				if err := register.KnowsJacket(sheets, n); err != nil {
					return err
				}
			}
		}
	case w.What == InSetUp && w.Value != None && w.Value != "":
		if _, ok := sheets.SetUp(w.Value); !ok {
			return fmt.Errorf("set-up %s: the register has no such set-up", w.Value)
		}
	}
	return nil
}

func example(files []string) string {
	if len(files) == 0 {
		return "ann/IMG_0412.JPG"
	}
	return files[0]
}
