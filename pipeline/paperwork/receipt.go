package paperwork

// codeMm is the side of the code that says the jacket's number: a photo of the receipt gives its jacket, as a placard does.
const codeMm = 30

// receipt leaves room for whoever receives, opens and returns the package.
func receipt(s pages, p Packet) error {
	const beside = 5
	says := "Photograph this sheet beside the package as it arrives and before it is opened"
	code := coded(p.Jacket.Number)
	wide := s.WidthMm()
	if code != "" {
		says += ": the code gives the photo its number"
		wide -= codeMm + beside
	}
	top, square := s.cell(wide), s.cell(codeMm)
	top.text(says + ".")
	top.text("Received on, by; condition of package and labels:")
	if p.Jacket.Plastered() {
		top.Pencil(2)
	} else {
		top.Pencil(1)
	}
	if code != "" {
		square.Code(code, codeMm)
	}
	rest := s.cell(s.WidthMm())
	type field struct {
		text  string
		lines int
	}
	fields := []field{
		{"Opened on, by, from which side:", 1},
		{"What was found against the plates (ends, sizes, what the plate did not show):", 2},
		{"Lab treatments (what, where, soluble in), samples taken:", 2},
		{"Returned or passed on: on, to, by; papers and plates with it:", 1},
	}
	if !p.Jacket.Plastered() {
		fields = []field{{"Lab treatments (what, soluble in), samples taken:", 1}, {"Returned or passed on: on, to, by:", 1}}
	}
	for _, field := range fields {
		rest.text(field.text)
		rest.Pencil(field.lines)
	}
	if says := fileCount(p); says != "" {
		rest.small(says)
	}
	s.Need(14 + top.TallMm() + rest.TallMm())
	s.heading("Received, opened, returned")
	s.place(top, square)
	s.place(rest)
	return nil
}
