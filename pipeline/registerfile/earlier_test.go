package registerfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fieldjacket/pipeline/register"
)

// TestEarlierHeadsAreRead: sheets and a season.toml written for an earlier version give the same register.
func TestEarlierHeadsAreRead(t *testing.T) {
	toml := func(rows ...string) string {
		return strings.Join(append([]string{`name = "S"`, `time_zone = "-03:00"`}, rows...), "\n") + "\n"
	}
	now := read(t, map[string]string{
		"season.toml": toml(`[[reference]]`, `name = "g"`, `kind = "grid"`, `pitch_cm = 10`, `squares = "7x6"`, `[[reference]]`, `name = "c"`, `kind = "card"`, `card = 3`, `arrow = "end_1"`,
			`[[reference]]`, `name = "d"`, `kind = "card"`, `card = 4`, `arrow = "end_2"`, `[views]`, `jacketed = ["jacketed"]`, `[[mix]]`, `name = "A"`, `soluble_in = "acetone"`),
		"finds.csv":      "field_number,date,what,by,end_1,end_2,long_axis_bearing_deg,north_reference,position_uncertainty_m\n14,2026-02-11,rib,AB,head,tip,30,true,5\n",
		"jackets.csv":    "jacket,finds,stage,matrix,jacket_materials,bone_to_plaster_mm\n14,14,Jacketed,silt,plaster and burlap,20\n",
		"setups.csv":     "setup,jackets,squares,edge_bearing_deg,north_reference\nS1,14,7x6,80,grid\n",
		"localities.csv": "locality,position_uncertainty_m\nL,8\n",
		"diary.csv":      "date,numbers,what,by,stage\n2026-02-11,14,plaster,AB,jacketed\n",
	})
	before := read(t, map[string]string{
		"season.toml": toml(`[[reference]]`, `name = "g"`, `kind = "grid"`, `pitch_cm = 10`, `cells = "7x6"`, `[[reference]]`, `name = "c"`, `kind = "card"`, `card = 3`, `arrow = "end_a"`,
			`[[reference]]`, `name = "d"`, `kind = "card"`, `card = 4`, `arrow = "end_b"`, `[views]`, `covered = ["jacketed"]`, `[[mix]]`, `name = "A"`, `redissolves_in = "acetone"`),
		"finds.csv":      "field_number,date,what,by,end_a,end_b,axis_bearing_a_to_b_deg,bearing_north,position_u_m\n14,2026-02-11,rib,AB,head,tip,30,true,5\n",
		"jackets.csv":    "jacket,finds,stage,rock,Jacket Kind,bone_cover_mm\n14,14,Covered,silt,plaster and burlap,20\n",
		"setups.csv":     "setup,jackets,cells,edge_bearing_deg,bearing_north\nS1,14,7x6,80,grid\n",
		"localities.csv": "locality,position_u_m\nL,8\n",
		"diary.csv":      "date,numbers,what,by,stage\n2026-02-11,14,plaster,AB,covered\n",
	})
	if len(now.Problems)+len(before.Problems) > 0 || now.Finds[0].EndA != "head" || *now.Jackets[0].BoneCoverMm != 20 || now.Jackets[0].Stage != register.Covered || now.Season.References[0].CellsAcross != 7 ||
		now.Season.References[1].ArrowEnd != "1" || now.SetUps[0].BearingNorth != register.NorthGrid || len(now.Season.Due) != 1 || now.Season.Mixes[0].RedissolveIn != "acetone" {
		t.Fatalf("%q, %q: %+v", now.Problems, before.Problems, now)
	}
	if diff := cmp.Diff(now, before, cmpopts.IgnoreFields(register.Season{}, "Zone")); diff != "" {
		t.Error(diff)
	}
}

// TestFaultsNameTheHeadAsItStands: also one of an earlier version.
func TestFaultsNameTheHeadAsItStands(t *testing.T) {
	for head, want := range map[string]string{"Bone_cover_mm": "row 2, bone_cover_mm", "bone_to_plaster_mm": "row 2, bone_to_plaster_mm"} {
		r := read(t, map[string]string{"season.toml": "name = \"S\"\n", "jackets.csv": "jacket," + head + "\n14,-3\n"})
		if len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Error(), want) {
			t.Errorf("%s: %q", head, r.Problems)
		}
	}
}
