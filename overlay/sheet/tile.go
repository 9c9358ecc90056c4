package sheet

import (
	"fmt"
	"io"

	"fieldjacket/calibrate/card"
	"fieldjacket/overlay/letters"
)

// A tile of a frame's corner, mm: its field of squares with white all round,
// half a square wide, and its name below.
const (
	TileMm      = 72.0 // its width, and its height without the name
	TileNameMm  = 16.0
	tileFieldMm = 4.5 // of the field on the tile
	tilesApart  = 8.0
)

// tileSays is what a tile says below its name.
var tileSays = [5]string{
	card.Origin:     "letters and numbers begin here",
	card.LettersEnd: "letters end here",
	card.FarCorner:  "across from A1",
	card.NumbersEnd: "numbers end here",
}

// TilePlace is where on the sheet the upper left corner of a tile lies.
func TilePlace(paper Paper, number int) (xMm, yMm float64) {
	column, row := 0.0, 0.0 // as they lie on a frame: A1, LETTERS above NUMBERS, FAR
	if number == card.LettersEnd || number == card.FarCorner {
		column = 1
	}
	if number == card.FarCorner || number == card.NumbersEnd {
		row = 1
	}
	left := (paper.WidthMm - 2*TileMm - tilesApart) / 2
	return left + column*(TileMm+tilesApart), CardTopMm + row*(TileMm+TileNameMm+tilesApart)
}

// WriteTiles writes the four tiles of one frame true to size on one sheet, with
// how to fix them to it.
func WriteTiles(w io.Writer, paper Paper) error {
	if paper == (Paper{}) {
		paper = A4
	}
	s := &Sheets{Options: Options{Paper: paper, Made: cardsMade}, loaded: map[string]bool{}}
	s.pdf = newPDF(paper, cardsMade, "tiles")
	s.pdf.AddPage()
	for number := card.Origin; number <= card.NumbersEnd; number++ {
		x, y := TilePlace(paper, number)
		s.cutMarks(x, y, TileMm, TileMm+TileNameMm)
		s.field(card.Tiles, number, x+tileFieldMm, y+tileFieldMm)
		s.centred(card.CornerNames[number], x+TileMm/2, y+TileMm+9.6, 12, letters.Bold)
		s.centred(tileSays[number], x+TileMm/2, y+TileMm+14, 3.6, letters.Regular)
	}
	x, y := TilePlace(paper, card.NumbersEnd)
	y += TileMm + TileNameMm + 7
	s.measureMe(x+TileMm+tilesApart/2, y)
	y += 11.5
	const side, plan = 12.0, 42.0
	s.tiledFrame(side+4, y+2.5, plan)
	s.numbered(side+plan+11, y, paper.WidthMm-2*side-plan-9,
		"Print at actual size (100 %, no fitting to the page) on matt paper. The line above must measure 100 mm.",
		"Cut at the corner marks. Glue each tile onto stiff board, or laminate it in matt film.",
		"Decide at which corner square A1 lies and which way the letters run. Fix A1 there, LETTERS where the letters end, NUMBERS where the numbers end, FAR across from A1.",
		"Fix each face up inside the frame, level with the strings or just below, its squares pushed into the corner: its upper edge along one outermost string, its left or right edge along the other. No string may cross the squares.",
		"Say it in season.toml at the grid: tiles = true",
	)
	return s.finish(w, "tiles")
}

// tiledFrame draws a frame of strings with its four tiles, side mm large.
func (s *Sheets) tiledFrame(x, y, side float64) {
	const cells, board, tile, name, em = 4, 2.5, 7.2, 1.8, 2.6
	pitch := (side - 2*board) / cells
	s.rect(x, y, side, side, 0.4)
	s.rect(x+board, y+board, side-2*board, side-2*board, 0.4)
	for i := range cells + 1 {
		at := board + float64(i)*pitch
		s.rule(x+at, y+board, x+at, y+side-board, 0.15)
		s.rule(x+board, y+at, x+side-board, y+at, 0.15)
	}
	for number := card.Origin; number <= card.NumbersEnd; number++ {
		right, down := number == card.LettersEnd || number == card.FarCorner, number == card.FarCorner || number == card.NumbersEnd
		tx, ty, top, nameY := x+board, y+board, y+board, y-4.6
		if right {
			tx = x + side - board - tile
		}
		if down {
			ty, top, nameY = y+side-board-tile, y+side-board-tile-name, y+side+3
		}
		s.centred(card.CornerNames[number], tx+tile/2, nameY, em, letters.Bold)
		s.pdf.SetFillColor(255, 255, 255)
		s.pdf.Rect(tx, top, tile, tile+name, "F")
		s.rect(tx, top, tile, tile+name, 0.25)
		s.pdf.SetFillColor(0, 0, 0)
		for _, c := range card.Tiles.DarkCells() {
			s.pdf.Rect(tx+0.45+0.9*float64(c.T), ty+0.45+0.9*float64(c.R), 0.9, 0.9, "F")
		}
	}
	for i, l := range []string{"A", "B", "C", "D"} {
		s.centred(l, x+board+(float64(i)+0.5)*pitch, y-1, em, letters.Bold)
		s.centred(fmt.Sprint(i+1), x-2, y+board+(float64(i)+0.5)*pitch+0.35*em, em, letters.Bold)
	}
}
