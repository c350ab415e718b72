package buildup

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// onStuds is how far a board's edge may be from a whole number of bays: 1250 mm
// boards stand on studs at 417 mm.
const onStuds = 2 * quantity.Millimetre

// Stud spacings above the practice's. Common practice: 625 mm with boards
// 1250 mm wide and 24 in with boards 48 in wide are as usual as a practice's
// own. What is wider than any board the plan's own check doubts.
const (
	widestUsual = 625 * quantity.Millimetre
	widestAtAll = 1250 * quantity.Millimetre
)

// builder looks up the products of one build-up.
type builder struct {
	cat   *catalogue.Catalogue
	pr    *catalogue.Practice
	path  string // of the build-up in the plan
	out   BuildUp
	found finding.List
	told  map[string]bool // unknown products that were told of
}

// Make looks up a build-up that stands in no plan; it returns nil with the
// findings where products are missing.
func Make(spec plan.BuildUp, cat *catalogue.Catalogue, pr *catalogue.Practice) (*BuildUp, finding.List) {
	return build(spec, "", cat, pr)
}

// build resolves a build-up; it returns nil with the findings where products
// are missing.
func build(spec plan.BuildUp, path string, cat *catalogue.Catalogue, pr *catalogue.Practice) (*BuildUp, finding.List) {
	b := &builder{cat: cat, pr: pr, path: path, out: BuildUp{Spec: spec}, told: map[string]bool{}}
	b.frame()
	b.boards()
	if b.found.Count(finding.Error) > 0 {
		return nil, b.found
	}
	b.bays()
	b.fill()
	if b.found.Count(finding.Error) > 0 {
		return nil, b.found
	}
	b.out.Thickness = b.out.finished()
	return &b.out, b.found
}

func (b *builder) add(severity finding.Severity, code, key string, what, fix words.Text) {
	b.found.Add(finding.Finding{
		Code: code, Severity: severity, Object: b.out.Spec.ID, Path: b.path + "." + key, What: what, Fix: fix,
	})
}

// unknown tells that the catalogue lacks a product, in the words in which the
// plan's own check tells it, and as that does once.
func (b *builder) unknown(kind, key, id string) {
	if b.told[kind+" "+id] {
		return
	}
	b.told[kind+" "+id] = true
	what := words.F("%s %q is not in the catalogue", kind, id)
	if id == "" {
		what = words.F("no %s is named", kind)
	}
	b.add(finding.Error, "unknown-"+kind, key, what, b.cat.Suggest(kind, id, b.pr))
}

// frame looks up studs and tracks.
func (b *builder) frame() {
	f := &b.out.Spec.Frame
	b.out.Kind = cmp.Or(f.Kind, plan.Single)
	b.out.Spacing = cmp.Or(f.Spacing, b.pr.StudSpacing.Value)
	if b.out.Kind == plan.Furring {
		b.out.Spacing = cmp.Or(f.Spacing, b.pr.FurringSpacing.Value)
	}
	b.out.Gap = f.Gap
	b.out.GussetHeight = cmp.Or(f.GussetHeight, b.pr.GussetHeight.Value)
	b.out.GussetSpacing = cmp.Or(f.GussetSpacing, b.pr.GussetSpacing.Value)
	b.assumeGap()
	if !slices.Contains(plan.FrameKinds(), b.out.Kind) {
		b.add(finding.Error, "frame-kind", "frame.kind", words.F("%q is no kind of frame", f.Kind), words.F("write one of: %s", kinds()))
	}
	if b.out.Spacing < plan.LeastSpacing || b.out.Gap < 0 {
		b.add(finding.Error, "frame-size", "frame", words.F("stud spacing cannot be below %s mm, nor the gap negative", plan.LeastSpacing), "leave them out or write a length")
	}
	b.spacing()
	stud, ok := b.cat.Profile(f.Stud)
	if !ok {
		b.unknown(catalogue.KindStud, "frame.stud", f.Stud)
		return
	}
	if b.out.Kind == plan.Furring && stud.Kind == catalogue.Channel {
		b.furring(f.Track, stud)
		return
	}
	if stud.Kind != catalogue.Stud && stud.Kind != catalogue.OpeningStud {
		b.add(finding.Error, "product-kind", "frame.stud", words.F("%s is no stud but a %s", stud.ID, kindName(stud.Kind)), words.F("name a stud, such as %s", b.pr.UsualStud.Value))
		return
	}
	b.out.Stud, b.out.OpeningStud = stud, stud
	if stiff, ok := b.cat.OpeningStudFor(stud.ID); ok {
		b.out.OpeningStud = stiff
	}
	b.track(f.Track, stud)
}

// furring takes a channel, turned so that its web carries the boards, and the
// perimeter channel that holds its ends.
func (b *builder) furring(track string, channel *catalogue.Profile) {
	turned := *channel
	turned.Web, turned.Flange = channel.Flange, channel.Web
	b.out.Stud, b.out.OpeningStud = &turned, &turned
	if rail, ok := b.cat.RailFor(channel.ID); ok && (track == "" || track == rail.ID) {
		b.out.Track = rail
		return
	}
	b.track(track, channel)
}

// assumeGap takes the practice's gap for a twin frame that gives none.
func (b *builder) assumeGap() {
	if !b.out.Kind.Twin() || b.out.Gap != 0 {
		return
	}
	b.out.Gap = b.pr.TwinGap.Value
	if b.out.Kind == plan.TwinBraced {
		b.out.Gap = b.pr.ServiceGap.Value
	}
	b.add(finding.Assumed, "gap-assumed", "frame.gap",
		words.F("no gap between the two frames is given; the practice's, %s mm, is taken", b.out.Gap), "write gap: with the clear distance between the frames")
}

// spacing doubts studs that stand wider than the practice has them. Half of
// 1250 mm boards is as usual as half of 1200 mm ones.
func (b *builder) spacing() {
	most := max(b.pr.StudSpacing.Value, widestUsual)
	if b.out.Spacing > most && b.out.Spacing <= widestAtAll {
		b.add(finding.Warning, "spacing-wide", "frame.spacing",
			words.F("the studs stand at %s mm; the practice has them at %s mm at most", b.out.Spacing, b.pr.StudSpacing.Value),
			words.F("write spacing: %s or less, or have test evidence for the wider spacing", most))
	}
}

// track looks up the track that is named, or the one that takes the stud.
func (b *builder) track(id string, stud *catalogue.Profile) {
	fitting, fits := b.cat.TrackFor(stud.ID)
	if id == "" {
		if !fits {
			b.add(finding.Error, "track-missing", "frame.stud", words.F("the catalogue has no track that takes %s", stud.ID), "name a track, or add one to your own catalogue")
		}
		b.out.Track = fitting
		return
	}
	track, ok := b.cat.Profile(id)
	if !ok {
		b.unknown(catalogue.KindTrack, "frame.track", id)
		return
	}
	if track.Kind != catalogue.Track && track.Kind != catalogue.DeepTrack || track.Fits != stud.Fits {
		fix := words.Text("leave the track out")
		if fits {
			fix = words.F("write track: %s", fitting.ID)
		}
		b.add(finding.Error, "track-misfit", "frame.track", words.F("%s does not take %s", track.ID, stud.ID), fix)
		return
	}
	b.out.Track = track
}

func kinds() string {
	var all []string
	for _, k := range plan.FrameKinds() {
		all = append(all, string(k))
	}
	return strings.Join(all, ", ")
}

func kindName(k catalogue.ProfileKind) string { return strings.ReplaceAll(string(k), "_", " ") }

// boards looks up the boards of both faces.
func (b *builder) boards() {
	s := &b.out.Spec
	b.out.A = b.face("face_a", s.FaceA)
	if s.Liner != "" && b.out.Kind == plan.Shaft {
		b.liner(s.Liner)
	}
	if len(s.FaceA) == 0 {
		b.add(finding.Error, "boards-missing", "face_a", "no boards are named for face A", words.F("write face_a: [%s]", b.pr.UsualBoard.Value))
	}
	switch {
	case b.out.Kind.OneSided():
		if len(s.FaceB) > 0 {
			b.add(finding.Warning, "boards-unused", "face_b", words.F("a %s wall is boarded on face A only; the boards of face B are left out", b.out.Kind), "take face_b out, or change the kind of frame")
		}
	case len(s.FaceB) == 0:
		b.out.B = b.out.A
	default:
		b.out.B = b.face("face_b", s.FaceB)
	}
}

func (b *builder) face(key string, ids []string) []*catalogue.Board {
	var boards []*catalogue.Board
	for i, id := range ids {
		board, ok := b.cat.Board(id)
		if !ok {
			b.unknown(catalogue.KindBoard, fmt.Sprintf("%s[%d]", key, i), id)
			continue
		}
		boards = append(boards, board)
	}
	return boards
}

// liner looks up the board that stands between the studs of a shaft wall.
func (b *builder) liner(id string) {
	board, ok := b.cat.Board(id)
	if !ok {
		b.unknown(catalogue.KindBoard, "liner", id)
		return
	}
	if b.out.Track != nil && board.Thickness > b.out.FrameDepth() {
		over := board.Thickness - b.out.FrameDepth()
		b.add(finding.Error, "liner-too-thick", "liner", words.F("%s is %s mm thicker than the frame it stands in, %s mm", id, over, b.out.FrameDepth()), "take a deeper frame or a thinner board")
		return
	}
	b.out.Liner = board
}

// bays warns of boards whose edges do not come to stand on studs.
func (b *builder) bays() {
	warned := map[string]bool{}
	for _, board := range slices.Concat(b.out.A, b.out.B) {
		n := board.Width.Round(b.out.Spacing) / b.out.Spacing
		if n >= 1 && (board.Width-n*b.out.Spacing).Abs() <= onStuds || warned[board.ID] {
			continue
		}
		warned[board.ID] = true
		n = max(1, (board.Width+b.out.Spacing-1)/b.out.Spacing)
		b.add(finding.Warning, "boards-off-studs", "frame.spacing",
			words.F("boards %s, %s mm wide, do not end on studs at %s mm", board.ID, board.Width, b.out.Spacing),
			words.F("set the studs at %s mm, or take boards %s or %s mm wide", (board.Width/n).Round(quantity.Millimetre/10), (n-1)*b.out.Spacing, n*b.out.Spacing))
	}
}

// fill looks up the cavity fill.
func (b *builder) fill() {
	for i, spec := range b.out.Spec.Insulation {
		key := fmt.Sprintf("insulation[%d]", i)
		product, ok := b.cat.InsulationProduct(spec.Product)
		if !ok {
			b.unknown(catalogue.KindInsulation, key+".product", spec.Product)
			continue
		}
		t := b.fillThickness(key, product, spec.Thickness)
		b.out.Insulation = append(b.out.Insulation, Fill{product, t, b.fillPlace(i, spec.Place)})
	}
	if b.out.Kind.Twin() && len(b.out.Spec.Insulation) == 1 {
		b.add(finding.Assumed, "fill-one-frame", "insulation", "only the frame at face A is filled", "give a second entry to fill both")
	}
	b.fillFits()
}

// fillPlace settles where a layer of fill lies: of twin frames that do not say,
// the first in the frame at face A and the others in that at face B.
func (b *builder) fillPlace(i int, said plan.FillPlace) plan.FillPlace {
	switch {
	case said != "":
		return said
	case b.out.Kind.Twin() && i > 0:
		return plan.InFrameB
	}
	return plan.InFrameA
}

// fillFits tells where layers of fill are thicker than what they lie in. What is
// too thick for a frame may stand out into the gap behind it.
func (b *builder) fillFits() {
	var in = map[plan.FillPlace]Length{}
	for _, f := range b.out.Insulation {
		in[f.Place] += f.Thickness
	}
	depth := b.out.FrameDepth()
	if b.out.Liner != nil {
		depth -= b.out.Liner.Thickness
	}
	out := max(in[plan.InFrameA]-depth, 0) + max(in[plan.InFrameB]-depth, 0) + in[plan.InGap]
	over := out - b.out.Gap
	if over <= 0 {
		return
	}
	total := in[plan.InFrameA] + in[plan.InFrameB] + in[plan.InGap]
	cavity := Length(b.out.FrameLines())*depth + b.out.Gap
	what := words.F("%s mm of fill do not go into a cavity of %s mm: %s mm too much", total, cavity, over)
	if total <= cavity {
		what = words.F("the layers of fill in one part of the cavity are %s mm thicker than it", over)
	}
	b.add(finding.Warning, "fill-too-thick", "insulation", what, "take thinner fill or a deeper frame")
}

// fillThickness settles the thickness of a fill that may come in several.
func (b *builder) fillThickness(key string, product *catalogue.Insulation, asked Length) Length {
	comes := product.Thicknesses
	if asked > 0 {
		if !slices.Contains(comes, asked) {
			b.add(finding.Warning, "fill-thickness", key+".thickness",
				words.F("%s does not come %s mm thick", product.ID, asked), words.F("write one of: %s", lengths(comes)))
		}
		return asked
	}
	t := comes[0]
	for _, other := range comes[1:] {
		if other <= b.out.FrameDepth() {
			t = other
		}
	}
	if len(comes) > 1 {
		b.add(finding.Assumed, "fill-thickness", key,
			words.F("the thickness of %s is not given; %s mm, the most that the frame takes, is assumed", product.ID, t), words.F("write thickness: %s", t))
	}
	return t
}

func lengths(list []Length) string {
	parts := make([]string, len(list))
	for i, l := range list {
		parts[i] = l.String()
	}
	return strings.Join(parts, ", ")
}
