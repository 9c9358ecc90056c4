package locate

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// ask gives lines to a program of GeographicLib and returns its answers, one a line.
func ask(t *testing.T, lines []string, program string, options ...string) []string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is missing: it judges this test (package geographiclib-tools)", program)
		}
		t.Skipf("%s is missing: it judges this test (package geographiclib-tools)", program)
	}
	command := exec.Command(program, options...)
	command.Stdin = strings.NewReader(strings.Join(lines, "\n") + "\n")
	out, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	answers := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(answers) != len(lines) {
		t.Fatalf("%s answered %d of %d lines", program, len(answers), len(lines))
	}
	return answers
}

// places are drawn over the grid, with more of them close to its edges.
func places(n int) (at []Place, lines []string) {
	r := rand.New(rand.NewPCG(20260211, 12))
	for range n {
		p := Place{LatDeg: -80 + 163.9999*r.Float64(), LonDeg: -180 + 360*r.Float64()}
		if r.IntN(3) == 0 { // near the edges of bands and zones
			p.LatDeg = float64(8*r.IntN(20)-80) + 0.01*r.Float64()
			p.LonDeg = max(-180, float64(3*r.IntN(120)-180)+0.01*(r.Float64()-0.5))
		}
		// Fixed-point decimals: what is typed is what is compared.
		line := fmt.Sprintf("%.9f %.9f", p.LatDeg, p.LonDeg)
		fmt.Sscan(line, &p.LatDeg, &p.LonDeg)
		at, lines = append(at, p), append(lines, line)
	}
	return at, lines
}

// TestGeoConvert: UTM to 1 mm, convergence, scale and MGRS by GeographicLib's own program, over the whole grid.
func TestGeoConvert(t *testing.T) {
	at, lines := places(4000)
	grid := ask(t, lines, "GeoConvert", "-u", "-p", "9")
	turns := ask(t, lines, "GeoConvert", "-c", "-p", "9")
	names := ask(t, lines, "GeoConvert", "-m")
	for i, p := range at {
		u, ok := p.UTM()
		if !ok {
			t.Fatalf("%s is not on the grid", lines[i])
		}
		half := map[bool]string{false: "n", true: "s"}[u.South]
		var zone string
		var east, north, turn, scale float64
		fmt.Sscan(grid[i], &zone, &east, &north)
		fmt.Sscan(turns[i], &turn, &scale)
		if want := fmt.Sprintf("%02d%s", u.Zone, half); zone != want {
			t.Errorf("%s: zone %s, want %s", lines[i], want, zone)
			continue
		}
		near(t, lines[i]+": easting", u.EastM, east, 0.001)
		near(t, lines[i]+": northing", u.NorthM, north, 0.001)
		near(t, lines[i]+": convergence", u.ConvergenceDeg, turn, 1e-8)
		near(t, lines[i]+": scale", u.Scale, scale, 1e-9)
		if got := p.MGRS(5); got != names[i] {
			t.Errorf("%s: %s, want %s", lines[i], got, names[i])
		}
	}
}

// TestGeoConvertReadsSquares: the middle of an MGRS square is the one that GeographicLib reads.
func TestGeoConvertReadsSquares(t *testing.T) {
	at, _ := places(1000)
	var names []string
	for i, p := range at {
		names = append(names, p.MGRS(1+i%5))
	}
	for i, answer := range ask(t, names, "GeoConvert", "-g", "-p", "5") {
		var want Place
		fmt.Sscan(answer, &want.LatDeg, &want.LonDeg)
		got, err := Parse(names[i], "WGS84")
		if err != nil {
			t.Fatal(err)
		}
		if d := Distance(*got.Place, want); d > 0.001 {
			t.Errorf("%s: %v, %g m from %s", names[i], *got.Place, d, answer)
		}
	}
}

// TestGeodSolve: distances from a metre to half round the globe, by GeographicLib's geodesics.
func TestGeodSolve(t *testing.T) {
	r := rand.New(rand.NewPCG(20260211, 13))
	var pairs [][2]Place
	var lines []string
	for i := range 2000 {
		reach := []float64{1e-5, 1e-3, 0.1, 10, 100}[i%5] // degrees
		a := Place{LatDeg: 140*r.Float64() - 70, LonDeg: 360*r.Float64() - 180}
		b := Place{LatDeg: min(max(a.LatDeg+reach*(r.Float64()-0.5), -80), 80), LonDeg: a.LonDeg + reach*(r.Float64()-0.5)}
		line := fmt.Sprintf("%.12f %.12f %.12f %.12f", a.LatDeg, a.LonDeg, b.LatDeg, b.LonDeg)
		fmt.Sscan(line, &a.LatDeg, &a.LonDeg, &b.LatDeg, &b.LonDeg)
		pairs, lines = append(pairs, [2]Place{a, b}), append(lines, line)
	}
	for i, answer := range ask(t, lines, "GeodSolve", "-i", "-p", "6") {
		var there, back, want float64
		fmt.Sscan(answer, &there, &back, &want)
		near(t, lines[i], Distance(pairs[i][0], pairs[i][1]), want, 1e-4+2e-5*want)
	}
}
