package orientation

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestAnAxisHasNoFront(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trends := rapid.SliceOfN(rapid.Float64Range(0, 359), 12, 40).Draw(t, "trends")
		turned := append([]float64(nil), trends...)
		turned[0], turned[5] = turned[0]+180, turned[5]-180
		a, b := Describe(trends), Describe(turned)
		if math.Abs(a.R-b.R) > 1e-9 || math.Abs(a.P-b.P) > 1e-9 || a.R > 1e-6 && math.Abs(math.Remainder(a.MeanDeg-b.MeanDeg, 180)) > 1e-6 {
			t.Fatalf("%+v and %+v", a, b)
		}
		all := 0
		for _, n := range Rose(trends, 18) {
			all += n
		}
		if all != len(trends) {
			t.Fatalf("the rose holds %d of %d", all, len(trends))
		}
	})
}

func TestFewAreNotTested(t *testing.T) {
	got := Describe([]float64{10, 12, 11, 9, 10, 11, 10, 9, 10})
	if got.Tested || got.Preferred() || got.HalfDeg != 0 {
		t.Errorf("%+v: nine axes say nothing", got)
	}
	if _, ok := FabricOf(make([]Axis, 9)); ok {
		t.Error("nine axes make no fabric")
	}
}

// The interval of fewer than 25 axes holds the true mean about as often as it says.
func TestBootstrapHoldsTheMean(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	inside, all := 0, 0
	for range 200 {
		trends := make([]float64, 20)
		for i := range trends {
			trends[i] = 170 + 15*r.NormFloat64()
		}
		got := Describe(trends)
		if !got.Preferred() {
			continue
		}
		all++
		if math.Abs(math.Remainder(got.MeanDeg-170, 180)) <= got.HalfDeg {
			inside++
		}
	}
	if share := float64(inside) / float64(all); all < 150 || share < 0.88 {
		t.Errorf("%.2f of %d intervals hold the mean, want 0.95", share, all)
	}
}

func TestUnfold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dip, towards := rapid.Float64Range(0, 85).Draw(t, "dip"), rapid.Float64Range(0, 359).Draw(t, "towards")
		// A line down the bed's dip lies level afterwards, along the same direction; one along the strike stays.
		down := Unfold(Axis{towards, dip}, dip, towards)
		if math.Abs(down.PlungeDeg) > 1e-6 || math.Abs(math.Remainder(down.TrendDeg-towards, 180)) > 1e-6 {
			t.Fatalf("down the dip: %+v", down)
		}
		strike := Unfold(Axis{math.Mod(towards+90, 360), 0}, dip, towards)
		if math.Abs(strike.PlungeDeg) > 1e-6 || math.Abs(math.Remainder(strike.TrendDeg-towards-90, 180)) > 1e-6 {
			t.Fatalf("along the strike: %+v", strike)
		}
	})
}

func TestFabric(t *testing.T) {
	// Axes at right angles in equal numbers have no fabric; axes round one direction make a cluster, axes in one plane a girdle.
	var even, cluster, girdle []Axis
	for i := range 12 {
		even = append(even, []Axis{{0, 0}, {90, 0}, {0, 90}}[i%3])
		cluster = append(cluster, Axis{30 + float64(i%4), 20 + float64(i%3)})
		girdle = append(girdle, Axis{float64(i * 15), float64(i % 2)})
	}
	if f, ok := FabricOf(even); !ok || math.Abs(f.S1-1./3) > 1e-9 || math.Abs(f.C) > 1e-6 {
		t.Errorf("even: %+v", f)
	}
	f, _ := FabricOf(cluster)
	if f.S1 < 0.99 || math.Abs(f.Mean.TrendDeg-31.5) > 1 || math.Abs(f.Mean.PlungeDeg-21) > 1 {
		t.Errorf("cluster: %+v", f)
	}
	if f, _ := FabricOf(girdle); f.K > 1 || f.S1 > 0.55 {
		t.Errorf("girdle: %+v", f)
	}
}
