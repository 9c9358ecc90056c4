package table

import (
	"bytes"
	"fmt"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"fieldjacket/pipeline/register"
)

// notUTF8 is said of a sheet or a cell whose text is in another encoding. None but UTF-16 carries a sign of which it is, and a
// wrong guess gives other letters that look right.
const (
	notUTF8  = "is not UTF-8 text"
	saveUTF8 = `: save the sheet as "CSV UTF-8", not as plain CSV`
)

// utf8Of is the text of a CSV file in UTF-8 without the mark at its beginning: as it is, or turned where that mark says that it
// is UTF-16 (what Excel calls Unicode text). Of half a character of UTF-16 stays a byte that is no UTF-8.
func utf8Of(content []byte) []byte {
	out, _, err := transform.Bytes(unicode.BOMOverride(transform.Nop), content)
	if err != nil {
		return content // then it is no UTF-8 either, which its cells tell
	}
	if bytes.HasPrefix(content, []byte{0xff, 0xfe}) || bytes.HasPrefix(content, []byte{0xfe, 0xff}) {
		out = bytes.ReplaceAll(out, []byte("\uFFFD"), []byte{0xff})
	}
	return out
}

// faultStrange reports the cells of the sheet that are not UTF-8 text, as one fault: all have the same cause.
func (s *Sheet) faultStrange() {
	if len(s.strange) == 0 {
		return
	}
	first, says, lost := s.strange[0], notUTF8, register.LostCell
	if more := len(s.strange) - 1; more > 0 {
		cells := "cells"
		if more == 1 {
			cells = "cell"
		}
		says, lost = fmt.Sprintf("%s, like %d more %s of this sheet", says, more, cells), "each of these cells"
	}
	s.Fault(first.Row, first.Column, first.Value, says+saveUTF8, lost)
}
