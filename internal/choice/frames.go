package choice

import (
	"fmt"
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/plan"
	"nogging/internal/proof/fire"
	"nogging/internal/proof/sound"
	"nogging/internal/proof/sound/prediction"
	"nogging/internal/proof/structure"
)

type kind = plan.FrameKind

// addFrames adds all frames that suit the boards of a sheet.
func (s *search) addFrames(sh *sheet) {
	all := fills(s.cat)
	reduced := map[Length][]fillOf{} // by depth of frame
	betweens := map[string]between{}
	for _, stud := range studs(s.cat) {
		track, _ := s.cat.TrackFor(stud.ID)
		strong, missing := structure.NewStud(stud, s.pr, structure.Bearing(&buildup.BuildUp{Track: track}, s.pr, s.Head))
		if len(missing) > 0 || s.demand.Limit <= 0 {
			strong = nil
		}
		depth := track.NominalDepth()
		if reduced[depth] == nil {
			reduced[depth] = s.reduce(all, depth)
		}
		fit := 0
		for _, f := range all {
			if f.thickness <= depth {
				fit++
			}
		}
		for _, k := range s.Demand.frames() {
			if k.OneSided() != (len(sh.pairs) > 0 && sh.pairs[0].b == nil) {
				continue
			}
			for _, gap := range gaps(k, s.pr, s.Service) {
				for _, spacing := range spacings(sh.width, s.pr) {
					s.tried += fit * sh.count
					s.fillFrame(frameOf{k, stud, sh.width, spacing, gap, fillOf{}}, sh, strong, reduced[depth], betweens)
				}
			}
		}
	}
}

// between is what lies between the faces.
type between struct {
	cavity *prediction.Cavity
	studs  *prediction.Studs
}

// fillFrame adds a frame with each of some fills.
func (s *search) fillFrame(of frameOf, sh *sheet, strong *structure.Stud, fills []fillOf, betweens map[string]between) {
	if len(sh.pairs) == 0 {
		return
	}
	base := frame{frameOf: of, sheet: sh}
	any := sh.faces[0].list[:1]
	base.build = of.build(any, any, s.cat, s.pr)
	if base.build == nil || s.Service > 0 && room(base.build, s.pr) < s.Service {
		return
	}
	if s.standOf(&base, strong); base.standing == Fails {
		return
	}
	standings := make([]fire.Standing, len(s.records))
	for i := range s.records {
		standings[i] = fire.FrameStanding(&s.records[i], s.facts(base.build))
	}
	bare := s.meter.frame(base.build)
	for _, fill := range fills {
		f := base
		f.fill = fill
		f.measures = bare
		if fill.product != nil {
			f.build = f.frameOf.build(any, any, s.cat, s.pr)
			one := s.meter.fill(fill.product, fill.thickness)
			for range len(f.build.Insulation) {
				f.measures.add(&one)
			}
		}
		if least := sum(&f.measures, &sh.least); s.Thickness > 0 && least[Thickness] > thousandths(s.Thickness.MM()) {
			continue
		}
		f.fire = slices.Clone(standings)
		covered := !s.withFire || s.guides
		for i := range s.records {
			if !fire.FillInside(&s.records[i], f.build.Insulation) {
				f.fire[i] = fire.Outside
			}
			covered = covered || f.fire[i] != fire.Outside
		}
		if !covered {
			continue
		}
		if s.Require.Sound != "" {
			s.soundOf(&f, betweens)
		}
		s.frames = append(s.frames, f)
	}
}

// standOf reckons a frame's strength.
func (s *search) standOf(f *frame, strong *structure.Stud) {
	if f.strong = strong; strong == nil {
		f.standing = Unknown
		return
	}
	bare := structure.FrameOf(f.build, s.pr, strong)
	f.uses, f.scoped, f.tied = bare.UsesOf(s.Height, &s.demand), len(strong.Scope) == 0, s.judge.tied(f.build)
	firm := false
	for i := range s.cat.HeightEvidence {
		e := &s.cat.HeightEvidence[i]
		sh := structure.ShownBy(e, &s.demand, s.Require.Duty)
		if (sh.Pressure || sh.Line) && structure.FrameTested(e, f.build, s.Height, s.sliding) {
			f.shown = append(f.shown, shown{i, sh})
			firm = firm || sh.Firm
		}
	}
	best := figures{uses: f.uses, scoped: f.scoped}
	for _, e := range f.shown { // as though every face were as tested
		if e.Firm {
			best.firm = most(best.firm, e.Shown)
		}
		best.recalled = best.recalled || s.useful(e.Shown)
	}
	if decide(&best, &s.demand) == Fails {
		f.standing = Fails
	} else if !firm && (!f.scoped || s.Require.Duty != "" || f.tied) {
		f.standing = Expected // at best
	}
}

// soundOf reckons what lies between the faces of a frame, once for all alike.
func (s *search) soundOf(f *frame, betweens map[string]between) {
	if s.inField {
		f.standing = max(f.standing, Expected)
	}
	for i, t := range s.tests {
		if t.Frame(f.build) {
			f.tests = append(f.tests, i)
		}
	}
	f.unknown = f.kind == plan.Lining || f.fill.product != nil && len(sound.Unknown(&buildup.BuildUp{Insulation: f.build.Insulation})) > 0
	f.beyond = len(sound.Beyond(f.build)) > 0
	if f.kind.OneSided() || f.unknown {
		return
	}
	key := fmt.Sprint(f.kind, f.build.FrameDepth(), f.gap, f.fill.thickness, f.spacing, f.stud.Thickness)
	if b, known := betweens[key]; known {
		f.cavity, f.studs = b.cavity, b.studs
		return
	}
	f.cavity, f.studs = sound.Between(f.build)
	betweens[key] = between{f.cavity, f.studs}
}

// reduce leaves out fills that are the same as another in all that is asked and
// better in no measure, and those too thick for a frame.
func (s *search) reduce(all []fillOf, depth Length) []fillOf {
	type kept struct {
		fill     fillOf
		measures Measures
	}
	groups := map[string][]kept{}
	var order []string
	for _, f := range all {
		if f.thickness > depth {
			continue
		}
		if f.product == nil {
			order, groups[""] = append(order, ""), []kept{{fill: f}}
			continue
		}
		k, m := s.fillKey(f), s.meter.fill(f.product, f.thickness)
		if groups[k] == nil {
			order = append(order, k)
		}
		if slices.ContainsFunc(groups[k], func(o kept) bool { return noWorse(&o.measures, &m) }) {
			continue
		}
		groups[k] = append(slices.DeleteFunc(groups[k], func(o kept) bool { return noWorse(&m, &o.measures) }), kept{f, m})
	}
	var list []fillOf
	for _, k := range order {
		for _, one := range groups[k] {
			list = append(list, one.fill)
		}
	}
	return list
}

// fillKey tells fills apart in all that is asked but their measures.
func (s *search) fillKey(f fillOf) string {
	one := []buildup.Fill{{Product: f.product, Thickness: f.thickness}}
	key := fmt.Sprint(f.thickness, len(sound.Unknown(&buildup.BuildUp{Insulation: one})))
	for i := range s.records {
		key += fmt.Sprint(" ", fire.FillInside(&s.records[i], one))
	}
	if s.heat > 0 {
		key += fmt.Sprint(" ", f.product.Lambda)
	}
	if len(s.tests) > 0 {
		key += " " + f.product.Material
	}
	return key
}
