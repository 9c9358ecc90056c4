package calibrate

// Thing is the everyday word for a reference.
func Thing(k Kind) string {
	switch k {
	case KindChecker:
		return "board"
	case KindGrid:
		return "strings"
	}
	return string(k)
}
