package locate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestAgainstGeoConvert: both ways to 1 mm, and the names of the squares to the letter.
func TestAgainstGeoConvert(t *testing.T) {
	const mm = 0.001
	rows := vectors(t, "geoconvert_utm.tsv")
	if len(rows) != 47 {
		t.Fatalf("%d rows, want 47", len(rows))
	}
	for _, row := range rows {
		t.Run(row["name"], func(t *testing.T) {
			p := Place{LatDeg: value(t, row, "lat"), LonDeg: value(t, row, "lon")}
			u, ok := p.UTM()
			if polar := row["zone"] == "UPS"; polar || !ok {
				if polar == ok {
					t.Errorf("on the grid: %v", ok)
				}
				if name := p.MGRS(5); name != "" {
					t.Errorf("beyond the grid, and yet %s", name)
				}
				return
			}
			near(t, "zone", float64(u.Zone), value(t, row, "zone"), 0)
			if u.South != (row["hemisphere"] == "s") {
				t.Errorf("south: %v", u.South)
			}
			near(t, "easting", u.EastM, value(t, row, "easting"), mm)
			near(t, "northing", u.NorthM, value(t, row, "northing"), mm)
			near(t, "convergence", u.ConvergenceDeg, value(t, row, "convergence_deg"), 1e-8)
			near(t, "scale", u.Scale, value(t, row, "scale"), 1e-9)
			if got := p.MGRS(5); got != row["MGRS_1m"] {
				t.Errorf("MGRS %s, want %s", got, row["MGRS_1m"])
			}
			if got := p.MGRS(3); got != row["MGRS_100m"] {
				t.Errorf("MGRS %s, want %s", got, row["MGRS_100m"])
			}
			back := UTM{Zone: u.Zone, South: u.South, EastM: value(t, row, "easting"), NorthM: value(t, row, "northing")}.Place()
			if d := Distance(back, p); d > mm {
				t.Errorf("back at %v, %g m away", back, d)
			}
			read, err := Parse(row["MGRS_1m"], "WGS84")
			if err != nil {
				t.Fatal(err)
			}
			if d := Distance(*read.Place, p); d > 0.71*u.Scale*1.002 {
				t.Errorf("the square of 1 m reads as %v, %g m away", *read.Place, d)
			}
		})
	}
}

// TestSnyder is the worked example of J. P. Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395 (1987),
// p. 269: transverse Mercator on the Clarke ellipsoid of 1866, printed to 0.1 m and 1e-7.
func TestSnyder(t *testing.T) {
	const aM, e2 = 6378206.4, 0.00676866
	clarke := newEllipsoid(aM, 1-math.Sqrt(1-e2))
	x, y, _, scale := clarke.project(40.5, -73.5+75)
	near(t, "x", 0.9996*x, 127106.5, 0.05)
	near(t, "y", 0.9996*y, 4484124.4, 0.05)
	near(t, "k", 0.9996*scale, 0.9997989, 5e-8)
}

// TestUniversalGrids: the points of DMA TM 8358.2 on another ellipsoid, both ways.
func TestUniversalGrids(t *testing.T) {
	international := newEllipsoid(6378388, 1./297)
	for _, row := range vectors(t, "dma_tm8358_utm.tsv") {
		lat, lon, zone := value(t, row, "lat"), value(t, row, "lon"), int(value(t, row, "zone"))
		south := 0.
		if row["hemisphere"] == "s" {
			south = utmFalseNorthM
		}
		x, y, _, _ := international.project(lat, lon-meridian(zone))
		near(t, "easting", utmFalseEastM+utmScale*x, value(t, row, "easting"), 0.03)
		near(t, "northing", south+utmScale*y, value(t, row, "northing"), 0.03)
		gotLat, gotLon := international.unproject((value(t, row, "easting")-utmFalseEastM)/utmScale, (value(t, row, "northing")-south)/utmScale)
		near(t, "latitude", gotLat, lat, 3e-7)
		near(t, "longitude", gotLon+meridian(zone), lon, 6e-7)
	}
}

// onGrid draws a place on the grid.
func onGrid(t *rapid.T) Place {
	return Place{LatDeg: rapid.Float64Range(-80, 83.9999).Draw(t, "lat"), LonDeg: rapid.Float64Range(-180, 180).Draw(t, "lon")}
}

// TestGridThereAndBack: any place comes back from the grid, and the square that names it holds it.
func TestGridThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := onGrid(t)
		u, ok := p.UTM()
		if !ok {
			t.Fatalf("%v is not on the grid", p)
		}
		if d := Distance(u.Place(), p); d > 1e-6 {
			t.Fatalf("%v comes back as %v, %g m away", p, u.Place(), d)
		}
		digits := rapid.IntRange(0, 5).Draw(t, "digits")
		name := p.MGRS(digits)
		read, err := Parse(name, "WGS84")
		if err != nil {
			t.Fatalf("%v is in %s: %v", p, name, err)
		}
		if d := Distance(*read.Place, p); d > read.SizeM*0.7072*1.003 {
			t.Fatalf("%v is in %s, whose middle is %g m away", p, name, d)
		}
		middle, _ := read.Place.UTM()
		if middle.Zone == u.Zone && bandOf(read.Place.LatDeg) == bandOf(p.LatDeg) && read.Place.MGRS(digits) != name {
			t.Fatalf("the middle of %s is in %s", name, read.Place.MGRS(digits))
		}
	})
}
