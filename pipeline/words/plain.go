package words

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// parseJackets reads "21; 22"; none gives an empty list that is not nil.
func parseJackets(text string) ([]string, error) {
	out := []string{}
	if strings.TrimSpace(text) == None {
		return out, nil
	}
	for part := range strings.SplitSeq(text, ";") {
		part = strings.Join(strings.Fields(part), " ")
		if part == None {
			return nil, fmt.Errorf("%q: want numbers, or none alone", text)
		}
		if part != "" && !slices.Contains(out, part) {
			out = append(out, part)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%q: want numbers of jackets with semicolons between, or none", text)
	}
	return out, nil
}

func parseView(text string) (register.View, error) {
	v := register.View(strings.TrimSpace(text))
	if v == None {
		return "", nil
	}
	if !v.Known() {
		return "", fmt.Errorf("%q: no such view: want one of %s, or none", text, listed(register.Views))
	}
	return v, nil
}

func parseSetUp(text string) (string, error) {
	if text = strings.TrimSpace(text); text == None {
		return "", nil
	}
	return text, nil
}

func parseCaption(text string) (string, error) { return strings.TrimSpace(text), nil }

func parseYes(text string) (bool, error) {
	switch strings.TrimSpace(text) {
	case "yes":
		return true, nil
	case "no":
		return false, nil
	}
	return false, fmt.Errorf("%q: want yes or no", text)
}

func parseNoScale(text string) (NoScaleWord, error) {
	yes, reason, _ := strings.Cut(text, ":")
	v, err := parseYes(yes)
	return NoScaleWord{v, strings.TrimSpace(reason)}, err
}

func parseOrigin(text string) (OriginWord, error) {
	p, err := parsePoints(text, 1, 2)
	if err != nil {
		return OriginWord{}, err
	}
	o := OriginWord{Corner: p[0]}
	if len(p) == 2 {
		o.LettersTo = &calibrate.Point{XPx: p[1].XPx, YPx: p[1].YPx}
	}
	return o, nil
}
