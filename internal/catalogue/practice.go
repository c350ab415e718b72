package catalogue

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// field is one rule of a practice: its name, its unit, and the range within
// which each of its numbers makes sense. The range keeps slips of the pen out;
// it is no rule of the trade.
type field struct {
	name     string
	unit     string
	min, max float64 // not checked where both are 0
	of       func(*Practice) rule
}

// fields lists the rules in the order of Practice.
var fields = []field{
	{"usual_stud", "", 0, 0, func(p *Practice) rule { return &p.UsualStud }},
	{"usual_board", "", 0, 0, func(p *Practice) rule { return &p.UsualBoard }},
	{"usual_layers", "", 1, 4, func(p *Practice) rule { return &p.UsualLayers }},
	{"stud_spacing", "mm", 100, 1250, func(p *Practice) rule { return &p.StudSpacing }},
	{"stud_shortfall", "mm", 0, 50, func(p *Practice) rule { return &p.StudShortfall }},
	{"board_shortfall", "mm", 0, 100, func(p *Practice) rule { return &p.BoardShortfall }},
	{"board_floor_gap", "mm", 0, 100, func(p *Practice) rule { return &p.BoardFloorGap }},
	{"board_max_length", "mm", 500, 6000, func(p *Practice) rule { return &p.BoardMaxLength }},
	{"starter", "mm", 100, 1500, func(p *Practice) rule { return &p.Starter }},
	{"min_piece", "mm", 0, 1200, func(p *Practice) rule { return &p.MinPiece }},
	{"joint_jamb", "mm", 0, 1200, func(p *Practice) rule { return &p.JointJamb }},
	{"cross_joint_offset", "mm", 0, 3000, func(p *Practice) rule { return &p.CrossJointOffset }},
	{"screw_spacing", "mm", 50, 1250, func(p *Practice) rule { return &p.ScrewSpacing }},
	{"screw_edge", "mm", 5, 100, func(p *Practice) rule { return &p.ScrewEdge }},
	{"screw_penetration", "mm", 1, 50, func(p *Practice) rule { return &p.ScrewPenetration }},
	{"track_fixing", "mm", 100, 2000, func(p *Practice) rule { return &p.TrackFixing }},
	{"track_fixing_end", "mm", 10, 1000, func(p *Practice) rule { return &p.TrackFixingEnd }},
	{"edge_stud_fixing", "mm", 100, 2000, func(p *Practice) rule { return &p.EdgeStudFixing }},
	{"edge_stud_minimum", "", 1, 50, func(p *Practice) rule { return &p.EdgeStudMinimum }},
	{"header_upstand", "mm", 0, 1000, func(p *Practice) rule { return &p.HeaderUpstand }},
	{"jambs", "", 0, 0, func(p *Practice) rule { return &p.Jambs }},
	{"opening_stud_leaf", "", 0, 0, func(p *Practice) rule { return &p.OpeningStudLeaf }},
	{"door_clear", "mm", 0, 500, func(p *Practice) rule { return &p.DoorClear }},
	{"steel_yield", "N/mm²", 50, 1000, func(p *Practice) rule { return &p.SteelYield }},
	{"header_safety", "", 1, 5, func(p *Practice) rule { return &p.HeaderSafety }},
	{"header_sag", "", 100, 2000, func(p *Practice) rule { return &p.HeaderSag }},
	{"pocket_extra", "mm", 0, 500, func(p *Practice) rule { return &p.PocketExtra }},
	{"pocket_head", "mm", 0, 500, func(p *Practice) rule { return &p.PocketHead }},
	{"pocket_depth", "mm", 40, 500, func(p *Practice) rule { return &p.PocketDepth }},
	{"box_apart", "mm", 0, 2000, func(p *Practice) rule { return &p.BoxApart }},
	{"stud_hole", "", 0, 0.9, func(p *Practice) rule { return &p.StudHole }},
	{"stud_hole_end", "mm", 0, 1000, func(p *Practice) rule { return &p.StudHoleEnd }},
	{"stud_hole_apart", "mm", 0, 3000, func(p *Practice) rule { return &p.StudHoleApart }},
	{"service_clear", "mm", 0, 200, func(p *Practice) rule { return &p.ServiceClear }},
	{"annular_gap", "mm", 0, 100, func(p *Practice) rule { return &p.AnnularGap }},
	{"collar_from", "mm", 0, 500, func(p *Practice) rule { return &p.CollarFrom }},
	{"fixtures", "", 0, 0, func(p *Practice) rule { return &p.Fixtures }},
	{"steel_method", "", 0, 0, func(p *Practice) rule { return &p.SteelMethod }},
	{"pressure", "Pa", 0, 5000, func(p *Practice) rule { return &p.Pressure }},
	{"deflection_limit", "", 60, 2000, func(p *Practice) rule { return &p.DeflectionLimit }},
	{"screw_slip", "N/mm", 0, 10_000, func(p *Practice) rule { return &p.ScrewSlip }},
	{"board_modulus", "N/mm²", 0, 20_000, func(p *Practice) rule { return &p.BoardModulus }},
	{"consoles", "", 0, 0, func(p *Practice) rule { return &p.Consoles }},
	{"console_lever", "mm", 0, 1000, func(p *Practice) rule { return &p.ConsoleLever }},
	{"rigid_head_limit", "mm", 0, 100, func(p *Practice) rule { return &p.RigidHeadLimit }},
	{"as_built", "mm", 0, 100, func(p *Practice) rule { return &p.AsBuilt }},
	{"head_tolerance", "mm", 0, 50, func(p *Practice) rule { return &p.HeadTolerance }},
	{"head_strip_lap", "mm", 0, 100, func(p *Practice) rule { return &p.HeadStripLap }},
	{"head_engagement", "mm", 5, 100, func(p *Practice) rule { return &p.HeadEngagement }},
	{"control_joint", "mm", 1000, 100_000, func(p *Practice) rule { return &p.ControlJoint }},
	{"bending", "", 0, 0, func(p *Practice) rule { return &p.Bending }},
	{"curve_spacing", "", 0, 0, func(p *Practice) rule { return &p.CurveSpacing }},
	{"slit_spacing", "mm", 20, 500, func(p *Practice) rule { return &p.SlitSpacing }},
	{"closing_length", "mm", 50, 2000, func(p *Practice) rule { return &p.ClosingLength }},
	{"wet_floor_gap", "mm", 0, 100, func(p *Practice) rule { return &p.WetFloorGap }},
	{"wet_edge", "mm", 0, 2000, func(p *Practice) rule { return &p.WetEdge }},
	{"floor_cut_sound", "dB", 0, 100, func(p *Practice) rule { return &p.FloorCutSound }},
	{"joint_gap", "mm", 2, 100, func(p *Practice) rule { return &p.JointGap }},
	{"door_joint", "", 0, 0, func(p *Practice) rule { return &p.DoorJoint }},
	{"tee_cut_sound", "dB", 0, 100, func(p *Practice) rule { return &p.TeeCutSound }},
	{"twin_gap", "mm", 1, 1000, func(p *Practice) rule { return &p.TwinGap }},
	{"service_gap", "mm", 1, 1000, func(p *Practice) rule { return &p.ServiceGap }},
	{"gusset_height", "mm", 50, 3000, func(p *Practice) rule { return &p.GussetHeight }},
	{"gusset_spacing", "mm", 100, 5000, func(p *Practice) rule { return &p.GussetSpacing }},
	{"splice_lap", "mm", 0, 3000, func(p *Practice) rule { return &p.SpliceLap }},
	{"splice_depths", "", 0, 40, func(p *Practice) rule { return &p.SpliceDepths }},
	{"splice_opening_studs", "", 0, 0, func(p *Practice) rule { return &p.SpliceOpeningStuds }},
	{"cross_joint_backing", "", 0, 0, func(p *Practice) rule { return &p.CrossJointBacking }},
	{"backed_layers", "", 1, 4, func(p *Practice) rule { return &p.BackedLayers }},
	{"post_spacing", "mm", 0, 10_000, func(p *Practice) rule { return &p.PostSpacing }},
	{"tie_back_spacing", "mm", 100, 5000, func(p *Practice) rule { return &p.TieBackSpacing }},
	{"furring_spacing", "mm", 100, 1250, func(p *Practice) rule { return &p.FurringSpacing }},
	{"furring_brackets", "mm", 100, 3000, func(p *Practice) rule { return &p.FurringBrackets }},
	{"coat_widths", "mm", 20, 1500, func(p *Practice) rule { return &p.CoatWidths }},
	{"coat_thickness", "mm", 0.05, 5, func(p *Practice) rule { return &p.CoatThickness }},
	{"taper_width", "mm", 10, 200, func(p *Practice) rule { return &p.TaperWidth }},
	{"taper_depth", "mm", 0.1, 5, func(p *Practice) rule { return &p.TaperDepth }},
	{"cut_bevel", "mm", 0, 20, func(p *Practice) rule { return &p.CutBevel }},
	{"screw_patch", "mm", 5, 200, func(p *Practice) rule { return &p.ScrewPatch }},
	{"usual_finish", "", 0, 0, func(p *Practice) rule { return &p.UsualFinish }},
	{"finish_levels", "", 0, 0, func(p *Practice) rule { return &p.FinishLevels }},
	{"coat_wait", "h", 0, 2000, func(p *Practice) rule { return &p.CoatWait }},
	{"setting_wait", "h", 0, 200, func(p *Practice) rule { return &p.SettingWait }},
	{"joint_minimum", "°C", 0, 40, func(p *Practice) rule { return &p.JointMinimum }},
	{"lift_limit", "kg", 1, 100, func(p *Practice) rule { return &p.LiftLimit }},
	{"offcut_profile", "mm", 0, 6000, func(p *Practice) rule { return &p.OffcutProfile }},
	{"offcut_board", "mm", 50, 2000, func(p *Practice) rule { return &p.OffcutBoard }},
	{"waste_boards", "%", 0, 100, func(p *Practice) rule { return &p.WasteBoards }},
	{"waste_profiles", "%", 0, 100, func(p *Practice) rule { return &p.WasteProfiles }},
	{"waste_insulation", "%", 0, 100, func(p *Practice) rule { return &p.WasteWool }},
	{"waste_compounds", "%", 0, 100, func(p *Practice) rule { return &p.WasteCompounds }},
	{"waste_screws", "%", 0, 100, func(p *Practice) rule { return &p.WasteScrews }},
}

// fieldNames lists the names of all rules.
func fieldNames() []string {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.name
	}
	return names
}

func fieldNamed(name string) (field, bool) {
	i := slices.IndexFunc(fields, func(f field) bool { return f.name == name })
	if i < 0 {
		return field{}, false
	}
	return fields[i], true
}

// Rules lists the practice's rules in the order of Practice, for tables and so
// that a part can name the rule that put it there.
func (p Practice) Rules() []NamedRule {
	rules := make([]NamedRule, len(fields))
	for i, f := range fields {
		rules[i] = f.named(&p)
	}
	return rules
}

// Rule returns one rule by its name.
func (p Practice) Rule(name string) (NamedRule, bool) {
	f, ok := fieldNamed(name)
	if !ok {
		return NamedRule{}, false
	}
	return f.named(&p), true
}

func (f field) named(p *Practice) NamedRule {
	r := f.of(p).origin()
	r.Name, r.Unit = f.name, f.unit
	return r
}

// With returns the practice with a project's overrides, by rule name. Values
// are written as in a plan: lengths in millimetres or with a unit, lists for
// screw_spacing, coat_widths and jambs. What is overridden has the status
// Entered. An override that is unknown, of the wrong kind, out of range or at
// odds with another rule is an error finding, and the practice's own value
// stays.
func (p Practice) With(overrides map[string]any) (Practice, finding.List) {
	var found finding.List
	changed := p
	for _, name := range slices.Sorted(maps.Keys(overrides)) {
		f, ok := fieldNamed(name)
		if !ok {
			found.Add(unknownOverride(name))
			continue
		}
		before := changed
		if err := f.of(&changed).enter(overrides[name]); err != nil {
			changed = before
			found.Add(badOverride(name, fmt.Sprintf("%s is not %s", shown(overrides[name]), f.of(&p).wants()), words.F("write %s", f.of(&p).wants())))
		} else if bad := f.outOfRange(&changed); bad != "" {
			changed = before
			found.Add(badOverride(name, bad, words.F("write a value from %s to %s %s", inWords(f.min), inWords(f.max), f.unit)))
		}
	}
	for _, c := range conflicts(&changed) {
		for _, name := range c.rules {
			f, _ := fieldNamed(name)
			f.of(&changed).takeFrom(f.of(&p))
		}
		found.Add(badOverride(c.rules[0], c.what, c.fix))
	}
	return changed, found
}

// outOfRange says what is wrong with the rule's numbers, or nothing.
func (f field) outOfRange(p *Practice) string {
	if f.min == 0 && f.max == 0 {
		return ""
	}
	for _, n := range f.of(p).numbers() {
		if n < f.min || n > f.max {
			return fmt.Sprintf("%s %s is outside %s to %s %s", inWords(n), f.unit, inWords(f.min), inWords(f.max), f.unit)
		}
	}
	return ""
}

func unknownOverride(name string) finding.Finding {
	return finding.Finding{
		Code: "override-unknown", Severity: finding.Error, Object: name, Path: "overrides." + name,
		What: words.F("the practice has no rule named %q", name), Fix: yamlfile.Suggest(name, "rules", fieldNames()),
	}
}

func badOverride(name, what string, fix words.Text) finding.Finding {
	return finding.Finding{
		Code: "override-value", Severity: finding.Error, Object: name, Path: "overrides." + name,
		What: words.F("%s; the practice's own value stays", what), Fix: fix,
	}
}

// conflict is a set of rules that cannot hold together.
type conflict struct {
	rules []string
	what  string
	fix   words.Text
}

// conflicts finds rules of a practice that contradict each other or
// themselves. Rules that nobody set are left to other checks.
func conflicts(p *Practice) []conflict {
	var all []conflict
	if p.BoardFloorGap.Value > p.BoardShortfall.Value {
		all = append(all, conflict{[]string{"board_floor_gap", "board_shortfall"},
			fmt.Sprintf("boards cannot stand %s mm off the floor when they are only %s mm shorter than the wall", p.BoardFloorGap.Value, p.BoardShortfall.Value),
			"make board_floor_gap at most board_shortfall"})
	}
	for i, spacings := range p.ScrewSpacing.Value {
		if len(spacings) != i+1 {
			all = append(all, conflict{[]string{"screw_spacing"},
				fmt.Sprintf("row %d of the screw spacings is for %d layers but lists %d", i+1, i+1, len(spacings)),
				"list one spacing for each layer: [[250], [750, 250], [750, 500, 250]]"})
			break
		}
	}
	if p.ScrewSpacing.given() && len(p.ScrewSpacing.Value) == 0 {
		all = append(all, conflict{[]string{"screw_spacing"}, "no screw spacing is listed", "list at least the spacing of a single layer: [[250]]"})
	}
	if p.CoatWidths.given() && (len(p.CoatWidths.Value) == 0 || !slices.IsSorted(p.CoatWidths.Value)) {
		all = append(all, conflict{[]string{"coat_widths"}, "each coat has to be at least as wide as the one before", "list the widths from the first coat to the last: [100, 200, 300]"})
	}
	if c := bendConflict(p.Bending.Value); c != "" {
		all = append(all, conflict{[]string{"bending"}, c, "write rows such as {standard: EN 520, thickness: 12.5, along: 2750}, thinner boards first"})
	}
	if c := curveConflict(p.CurveSpacing.Value); c != "" {
		all = append(all, conflict{[]string{"curve_spacing"}, c, "write rows such as {radius: 5000, spacing: 300}, tighter curves first"})
	}
	if c := leafConflict(p.OpeningStudLeaf.Value); c != "" {
		all = append(all, conflict{[]string{"opening_stud_leaf"}, c, "list deeper frames after shallower ones: [{depth: 50, leaf: 50}, {depth: 75, leaf: 75}]"})
	}
	if c := structureConflict(p); c.what != "" {
		all = append(all, c)
	}
	if c := fixtureConflict(p.Fixtures.Value); c != "" {
		all = append(all, conflict{[]string{"fixtures"}, c, "write rows such as {kind: basin, height: 850, grounds: [0], load: 150}"})
	}
	if b := p.CrossJointBacking.Value; p.CrossJointBacking.given() && !slices.Contains(Backings(), b) {
		all = append(all, conflict{[]string{"cross_joint_backing"}, fmt.Sprintf("%q is no backing", b), words.F("write one of: %s", strings.Join(Backings(), ", "))})
	}
	for _, r := range []struct {
		name string
		rule *Rule[[]Length]
	}{{"wet_floor_gap", &p.WetFloorGap}, {"wet_edge", &p.WetEdge}} {
		if r.rule.given() && len(r.rule.Value) != len(WetClasses()) {
			all = append(all, conflict{[]string{r.name}, fmt.Sprintf("%d values for %d water action classes", len(r.rule.Value), len(WetClasses())), "list one for each of W0-I to W3-I: [0, 50, 150, 150]"})
		}
	}
	if j := p.DoorJoint.Value; p.DoorJoint.given() && !slices.Contains(doorJoints, j) {
		all = append(all, conflict{[]string{"door_joint"}, fmt.Sprintf("openings cannot serve as joints by %q", j), words.F("write one of: %s", strings.Join(doorJoints, ", "))})
	}
	if c := finishConflict(p); c != "" {
		all = append(all, conflict{[]string{"finish_levels", "usual_finish"}, c, "write rows such as {level: Q2, coats: 3, angles: 3, heads: 2}"})
	}
	if c := jambConflict(p.Jambs.Value); p.Jambs.given() && c != "" {
		all = append(all, conflict{[]string{"jambs"}, c, "end the list with a row without limits, such as {jamb: opening_stud}"})
	}
	return all
}

func jambConflict(rows []JambRule) string {
	for i, r := range rows {
		if r.Jamb != JambBoxed && r.Jamb != JambOpeningStud {
			return fmt.Sprintf("row %d: jamb %q is neither %s nor %s", i+1, r.Jamb, JambBoxed, JambOpeningStud)
		}
		if r.MaxLeaf < 0 || r.MaxWidth < 0 || r.MaxHeight < 0 || r.Sheet < 0 {
			return fmt.Sprintf("row %d has a limit below zero", i+1)
		}
	}
	if n := len(rows); n == 0 || rows[n-1].limited() {
		return "the jamb table leaves some doors without a row"
	}
	return ""
}

func (j JambRule) limited() bool { return j.MaxLeaf > 0 || j.MaxWidth > 0 || j.MaxHeight > 0 }

// JambFor returns the first row of the jamb table that fits a door: leaf mass
// in kg with hardware, width of the opening, height of the wall. A leaf mass of
// zero is unknown and fits only rows that do not ask for it.
func (p *Practice) JambFor(leaf float64, width, height Length) (JambRule, bool) {
	for _, r := range p.Jambs.Value {
		if (r.MaxLeaf == 0 || leaf > 0 && leaf <= r.MaxLeaf) &&
			(r.MaxWidth == 0 || width <= r.MaxWidth) &&
			(r.MaxHeight == 0 || height <= r.MaxHeight) {
			return r, true
		}
	}
	return JambRule{}, false
}
