package container

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"
)

// unit is a NAL unit of an intra picture (H.265, table 7-1: IDR_N_LP, 20) behind its length.
func unit(body string) string { return unitOf(4, "\x28\x01"+body) }

func unitOf(lengthBytes int, nal string) string {
	return string(binary.BigEndian.AppendUint64(nil, uint64(len(nal)))[8-lengthBytes:]) + nal
}

// TestNALUnits: what H.265 (7.3.1.1, 7.4.2) allows within NAL units and what not, by hand.
func TestNALUnits(t *testing.T) {
	good := unit("\xaf\x12")
	for name, c := range map[string]struct {
		stream string
		length int
		fault  string // "": none
	}{
		"one":                        {good, 4, ""},
		"two":                        {good + good, 4, ""},
		"parameter sets before it":   {unitOf(4, "\x40\x01\x0c") + unitOf(4, "\x42\x01\x01") + unitOf(4, "\x44\x01\xc1") + good, 4, ""},
		"behind two bytes":           {unitOf(2, "\x28\x01\xaf"), 2, ""},
		"behind one byte":            {unitOf(1, "\x28\x01\xaf"), 1, ""},
		"two zeros":                  {unit("\x00\x00\x04"), 4, ""},
		"two zeros at the end":       {unit("\x00\x00"), 4, ""},
		"kept away 0":                {unit("\x00\x00\x03\x00\x80"), 4, ""},
		"kept away 1":                {unit("\x00\x00\x03\x01"), 4, ""},
		"kept away 2":                {unit("\x00\x00\x03\x02"), 4, ""},
		"kept away 3":                {unit("\x00\x00\x03\x03"), 4, ""},
		"kept away at the end":       {unit("\x80\x00\x00\x03"), 4, ""},
		"kept away twice":            {unit("\x00\x00\x03\x00\x00\x03\x00\x80"), 4, ""},
		"zeros of a length":          {unit("\xaf\x00\x00") + good, 4, ""},
		"a kept-away 4":              {unit("\x00\x00\x03\x04"), 4, "such as zeros"},
		"three zeros":                {unit("\xaf\x00\x00\x00\xaf"), 4, "such as zeros"},
		"a start code":               {unit("\xaf\x00\x00\x01\xaf"), 4, "such as zeros"},
		"00 00 02":                   {unit("\xaf\x00\x00\x02\xaf"), 4, "such as zeros"},
		"zeros behind a kept-away":   {unit("\x00\x00\x03\x00\x00\x00"), 4, "such as zeros"},
		"zeros at the end":           {unit("\xaf\x00\x00\x00"), 4, "such as zeros"},
		"zeros where reads meet":     {unit(strings.Repeat("\xaf", 4096-2-1) + "\x00\x00\x00\xaf"), 4, "such as zeros"},
		"a length too long":          {good[:3] + "\x05\x28\x01\xaf\x12", 4, "ends within"},
		"a length too short":         {good[:3] + "\x03\x28\x01\xaf\x12", 4, "bytes behind"},
		"a length of nothing":        {good + "\x00\x00\x00\x00", 4, "without a head"},
		"a length of one":            {"\x00\x00\x00\x01\x28", 4, "without a head"},
		"a length and no more":       {"\x00\x00\x00\x02", 4, "ends within"},
		"half a head":                {"\x00\x00\x00\x02\x28", 4, "ends within"},
		"the forbidden bit":          {unitOf(4, "\xa8\x01\xaf"), 4, "head that there is not"},
		"no temporal layer":          {unitOf(4, "\x28\x00\xaf"), 4, "head that there is not"},
		"kind 22":                    {unitOf(4, "\x2c\x01\xaf"), 4, "head that there is not"},
		"kind 31":                    {unitOf(4, "\x3e\x01\xaf"), 4, "head that there is not"},
		"kind 41":                    {unitOf(4, "\x52\x01\xaf"), 4, "head that there is not"},
		"kind 47":                    {unitOf(4, "\x5e\x01\xaf"), 4, "head that there is not"},
		"kind 48, for whom it may":   {good + unitOf(4, "\x60\x01\xaf"), 4, ""},
		"kind 40, a word behind it":  {good + unitOf(4, "\x50\x01\xaf"), 4, ""},
		"kind 21, at random access":  {unitOf(4, "\x2a\x01\xaf"), 4, ""},
		"nothing":                    {"", 4, "no picture"},
		"parameter sets alone":       {unitOf(4, "\x40\x01\x0c"), 4, "no picture"},
		"a picture of another layer": {unitOf(4, "\x28\x09\xaf"), 4, "no picture"},
		"of layer 32":                {unitOf(4, "\x29\x01\xaf"), 4, "no picture"},
	} {
		err := nalUnits(bufio.NewReader(strings.NewReader(c.stream)), c.length)
		if c.fault == "" && err != nil || c.fault != "" && (err == nil || !strings.Contains(err.Error(), c.fault)) {
			t.Errorf("%s: %v, want %q", name, err, c.fault)
		}
	}
}

// TestEndlessTilesEnd: pieces that name the same bytes over and over are no picture.
func TestEndlessTilesEnd(t *testing.T) {
	good := unit("\xaf\x12")
	c := &CodedPicture{most: 16, parts: []codedPart{{1, strings.NewReader(good), 4}, {2, strings.NewReader(good), 4}}}
	if err := c.CheckWhole(); err == nil || !strings.Contains(err.Error(), "longer than the file") {
		t.Errorf("%v", err)
	}
}

func FuzzNALUnits(f *testing.F) {
	f.Add([]byte(unit("\x00\x00\x03\x00\x80")), byte(4))
	f.Fuzz(func(t *testing.T, stream []byte, length byte) {
		err := nalUnits(bufio.NewReader(bytes.NewReader(stream)), 1+int(length&3))
		var fault nalFault
		if err != nil && !errors.As(err, &fault) {
			t.Errorf("%v", err)
		}
		if err == nil && len(stream) < 3 {
			t.Errorf("a picture of %d bytes", len(stream))
		}
	})
}
