package overlay

import "testing"

// BenchmarkDraw draws everything but the picture of a plate of the usual size.
func BenchmarkDraw(b *testing.B) {
	p := scaledPlate()
	p.Picture.WidthPx, p.Picture.HeightPx, p.Picture.PrintDPI = 3000, 2250, 450
	canvas := plateOn(p, "dark")
	for b.Loop() {
		if err := Draw(canvas, p); err != nil {
			b.Fatal(err)
		}
	}
}
