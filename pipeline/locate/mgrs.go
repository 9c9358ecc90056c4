package locate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Letters of the 100 km squares, without I and O: DMA TM 8358.1 (1990), chapter 3, WGS84 lettering.
const (
	mgrsColumns = "ABCDEFGHJKLMNPQRSTUVWXYZ" // eight for each zone, in turns of three zones
	mgrsRows    = "ABCDEFGHJKLMNPQRSTUV"     // from the equator, repeating every 2000 km; even zones begin with F
	squareM     = 100_000
)

// MGRS names the square that a place lies in, by digits 0 to 5 for each of its two numbers: 5 is a square of 1 m, 3 of 100 m.
// Digits are cut, not rounded, as the grid's rule is. "" beyond the grid, towards the poles.
func (p Place) MGRS(digits int) string {
	u, ok := p.UTM()
	if !ok {
		return ""
	}
	if u.South { // a hair south of the equator is not on it
		u.NorthM = min(u.NorthM, math.Nextafter(utmFalseNorthM, 0))
	}
	column, row := int(u.EastM/squareM)-1, int(u.NorthM/squareM)
	if u.Zone%2 == 0 {
		row += 5
	}
	east, north := int(math.Mod(u.EastM, squareM)), int(math.Mod(u.NorthM, squareM))
	name := fmt.Sprintf("%02d%c%c%c", u.Zone, bandOf(p.LatDeg), mgrsColumns[(u.Zone-1)%3*8+column], mgrsRows[row%len(mgrsRows)])
	if digits == 0 {
		return name
	}
	cut := int(math.Pow10(5 - digits))
	return name + fmt.Sprintf("%0*d%0*d", digits, east/cut, digits, north/cut)
}

// parseMGRS reads a name such as 25HES8145488351, without blanks and in capitals, as the middle of its square, which is sizeM
// wide.
func parseMGRS(name string) (at Place, sizeM float64, err error) {
	i := strings.IndexFunc(name, func(c rune) bool { return c > '9' })
	zone, _ := strconv.Atoi(name[:i])
	band, columnLetter, rowLetter, digits := strings.IndexByte(bands, name[i]), name[i+1], name[i+2], name[i+3:]
	if zone < 1 || zone > 60 {
		return Place{}, 0, fmt.Errorf("zone %d: zones are 1 to 60", zone)
	}
	if band < 0 {
		return Place{}, 0, fmt.Errorf("%c: no such band, C to X without I and O; A, B, Y and Z lie at the poles and are not read", name[i])
	}
	column := strings.IndexByte(mgrsColumns[(zone-1)%3*8:(zone-1)%3*8+8], columnLetter)
	if column < 0 {
		return Place{}, 0, fmt.Errorf("square %c%c: zone %d has columns %s", columnLetter, rowLetter, zone, mgrsColumns[(zone-1)%3*8:(zone-1)%3*8+8])
	}
	row := strings.IndexByte(mgrsRows, rowLetter)
	if row < 0 {
		return Place{}, 0, fmt.Errorf("square %c%c: rows are A to V without I and O", columnLetter, rowLetter)
	}
	if zone%2 == 0 {
		row = (row + 15) % 20
	}
	if len(digits)%2 != 0 || len(digits) > 10 {
		return Place{}, 0, fmt.Errorf("%d digits after the square: want as many for east as for north, 1 to 5 each", len(digits))
	}
	half := len(digits) / 2
	sizeM = squareM / math.Pow10(half)
	east, _ := strconv.Atoi("0" + digits[:half])
	north, _ := strconv.Atoi("0" + digits[half:])
	u := UTM{Zone: zone, South: band < strings.IndexByte(bands, 'N'), EastM: float64(column+1)*squareM + float64(east)*sizeM}
	southDeg, northDeg := bandEdges(band)
	for u.NorthM = float64(row)*squareM + float64(north)*sizeM; u.NorthM < utmFalseNorthM; u.NorthM += float64(len(mgrsRows)) * squareM {
		low, high := u.latitudes(sizeM)
		if high >= southDeg && low < northDeg {
			u.EastM += sizeM / 2
			u.NorthM += sizeM / 2
			return u.Place(), sizeM, nil
		}
	}
	return Place{}, 0, fmt.Errorf("square %c%c does not lie in %d%c: one of the letters or numbers is wrong", columnLetter, rowLetter, zone, bands[band])
}

// latitudes are the lowest and the highest of the corners of a square whose south-west corner u is.
func (u UTM) latitudes(sizeM float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, corner := range [4][2]float64{{}, {sizeM, 0}, {0, sizeM}, {sizeM, sizeM}} {
		c := u
		c.EastM += corner[0]
		c.NorthM += corner[1]
		lat := c.Place().LatDeg
		low, high = min(low, lat), max(high, lat)
	}
	return low, high
}
