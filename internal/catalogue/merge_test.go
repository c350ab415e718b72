package catalogue

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/finding"
	"nogging/internal/quantity"
)

const userFile = `# what our yard has
boards:
  - {id: GKB-12.5, name: Our board, standard: EN 520, type: A, thickness: 12.5, width: 1200, lengths: [2500], mass: 9.1, edge: tapered}
  - {id: LOAM-25, name: Clay board 25 mm, standard: DIN 18948, type: clay, thickness: 25 mm, width: 62.5 cm, lengths: [1.25 m], mass: 18, edge: square}
profiles:
  - id: CW70
    name: Stud 70
    kind: stud
    standard: EN 14195
    web: 68.8
    depth: 70
    flange: 50
    lip: 6
    thickness: 0.55
    mass: 0.75
    lengths: [2600, 3000]
    fits: "70"
  - {id: UW70, name: Track 70, kind: track, standard: EN 14195, web: 70, flange: 40, thickness: 0.55, mass: 0.63, lengths: [4000], fits: "70"}
practices:
  - id: ours
    base: metric
    name: Our rules
    stud_spacing: {value: 400}
    coat_wait: {value: 0, note: hot air}
  - id: us
    stud_spacing: {value: 24 in, status: common practice}
`

func snapshot(t testing.TB, c *Catalogue) string {
	t.Helper()
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestMerge(t *testing.T) {
	before := snapshot(t, Shipped())
	user, found := Parse("ours.yaml", []byte(userFile))
	merged, wrong := Shipped().Merge(user)
	if found = append(found, wrong...); len(found) > 0 {
		t.Fatal(found)
	}
	if after := snapshot(t, Shipped()); after != before {
		t.Error("the shipped catalogue was changed")
	}
	if b, _ := merged.Board("GKB-12.5"); b.Mass != 9.1 || b.Status != quantity.Entered || len(b.Lengths) != 1 {
		t.Errorf("not replaced: %+v", b)
	}
	if b, _ := Shipped().Board("GKB-12.5"); b.Mass != 8.5 {
		t.Errorf("the shipped board has %v kg/m²", b.Mass)
	}
	if b, ok := merged.Board("LOAM-25"); !ok || b.Width != quantity.MM(625) || b.Lengths[0] != quantity.MM(1250) {
		t.Errorf("not added: %+v", b)
	}
	if track, ok := merged.TrackFor("CW70"); !ok || track.ID != "UW70" {
		t.Errorf("track %+v", track)
	}
	if len(merged.Boards) != len(Shipped().Boards)+1 || len(merged.Profiles) != len(Shipped().Profiles)+2 {
		t.Errorf("%d boards, %d profiles", len(merged.Boards), len(merged.Profiles))
	}
}

// A practice keeps the rules of its base that it does not set, and may set a
// rule to zero.
func TestMergePractices(t *testing.T) {
	user, _ := Parse("ours.yaml", []byte(userFile))
	merged, _ := Shipped().Merge(user)
	ours, ok := merged.PracticeByID("ours")
	if !ok {
		t.Fatal("not added")
	}
	want := *practice(t, "metric")
	want.ID, want.Base, want.Name = "ours", "metric", "Our rules"
	want.StudSpacing = byUser(400 * quantity.Millimetre)
	want.CoatWait = Rule[float64]{Status: quantity.Entered, Note: "hot air"}
	if diff := cmp.Diff(want, *ours); diff != "" {
		t.Error(diff)
	}
	us, _ := merged.PracticeByID("us")
	if us.StudSpacing.Value != 24*quantity.Inch || us.Name == "" || us.ControlJoint.Value != 30*quantity.Foot {
		t.Errorf("%+v", us)
	}
}

// A wrong entry is a finding with its place; the others are merged.
func TestMergeBadEntries(t *testing.T) {
	const good = "{id: OK-12, name: x, standard: s, type: t, thickness: 12, width: 1200, lengths: [2000], mass: 9, edge: square}"
	for _, tt := range []struct {
		name, entry, code, what string
	}{
		{"negative mass", strings.ReplaceAll(good, "mass: 9", "mass: -9"), "catalogue-value", "mass: -9 is no kg/m²"},
		{"lengths out of order", strings.ReplaceAll(good, "[2000]", "[3000, 2000]"), "catalogue-value", "lengths: 2000 mm is out of order"},
		{"no thickness", strings.ReplaceAll(good, "thickness: 12,", "thickness: 0,"), "catalogue-value", "thickness: 0 mm"},
		{"unknown edge", strings.ReplaceAll(good, "square", "round"), "catalogue-value", `edge: "round"`},
		{"unknown wet class", strings.ReplaceAll(good, "edge:", "wet: W9, edge:"), "catalogue-value", `wet: "W9"`},
		{"unknown status", strings.ReplaceAll(good, "edge:", "status: sure, edge:"), "catalogue-value", `status: status "sure"`},
		{"published without source", strings.ReplaceAll(good, "edge:", "status: published, edge:"), "catalogue-value", "no source"},
		{"id twice", good, "catalogue-duplicate", "used twice"},
		{"no length at all", strings.ReplaceAll(good, "thickness: 12", "thickness: thick"), "bad-length", "thick"},
		{"missing key", strings.ReplaceAll(good, "width: 1200, ", ""), "missing-key", "width"},
	} {
		entry := tt.entry
		if tt.name != "id twice" {
			entry = strings.ReplaceAll(entry, "OK-12", "BAD-12")
		}
		user, found := Parse("ours.yaml", []byte("boards:\n  - "+good+"\n  - "+entry+"\n"))
		merged, wrong := Shipped().Merge(user)
		found = append(found, wrong...)
		if len(found) != 1 || found[0].Code != tt.code || !strings.Contains(found[0].What.String(), tt.what) ||
			found[0].Severity != finding.Error || found[0].Place.Line != 3 || found[0].Fix == "" {
			t.Errorf("%s: %+v", tt.name, found)
		}
		if !merged.Known(KindBoard, "OK-12") || merged.Known(KindBoard, "BAD-12") {
			t.Errorf("%s: the right entry is missing or the wrong one is there", tt.name)
		}
	}
}

func TestMergeReferences(t *testing.T) {
	user, _ := Parse("ours.yaml", []byte(`profiles:
  - {id: CW70, name: Stud 70, kind: stud, standard: EN 14195, web: 68.8, flange: 50, thickness: 0.6, mass: 0.75, lengths: [3000], fits: "70", opening: UA57}
practices:
  - {id: ours, base: metric, usual_stud: {value: CW57}}
  - {id: theirs, stud_spacing: {value: 500}}
`))
	_, found := Shipped().Merge(user)
	var all []string
	for _, f := range found {
		all = append(all, string(f.Severity)+": "+f.Object+": "+f.What.String())
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{
		"warning: CW70: no track of EN 14195 takes the size 70",
		`warning: CW70: its opening stud "UA57" is not in the catalogue`,
		`warning: ours: its usual stud "CW57" is not in the catalogue`,
		"error: theirs: stud_shortfall: the rule is missing",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
}

func TestMergeShippedWithItself(t *testing.T) {
	merged, found := Shipped().Merge(Shipped())
	if len(found) > 0 || snapshot(t, merged) != snapshot(t, Shipped()) {
		t.Errorf("merging twice changes something: %v", found)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(userFile))
	f.Add([]byte("boards: [{id: X, lengths: [-1]}]"))
	f.Add([]byte("practices: [{id: metric, jambs: {value: [{}]}}]"))
	f.Fuzz(func(t *testing.T, content []byte) {
		user, _ := Parse("f.yaml", content)
		merged, _ := Shipped().Merge(user)
		for _, found := range validate(merged) {
			if found.Code == "catalogue-value" || found.Code == "catalogue-duplicate" {
				t.Errorf("merged in spite of %s", found)
			}
		}
	})
}
