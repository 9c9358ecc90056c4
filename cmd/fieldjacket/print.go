package main

// printCommand is what is printed apart from a run.
type printCommand struct {
	Card    printCardCommand    `cmd:"" help:"Our own cards, true to size: laid beside the bone they tell the scale, which card it is and which way round it lies."`
	Forms   printForms          `cmd:"" help:"Blank forms: find, jacket, diary, photo log."`
	Plate   printPlateCommand   `cmd:"" help:"A plate at a true scale, as PDF sheets or as a picture."`
	Tiles   printTilesCommand   `cmd:"" help:"Four tiles for the corners of a grid's frame: they tell in every photo where square A1 lies and which way letters and numbers run."`
	Placard printPlacardCommand `cmd:"" help:"A jacket's number in large letters with two codes that say it, to be photographed before the jacket."`
}
