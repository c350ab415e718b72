package layout

import (
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// beside is how far from a face rooms are looked for.
const beside = 50 * quantity.Millimetre

// wetRoom is a room of a water action class.
type wetRoom struct {
	*plan.Room
	outline geom.Polygon
	bounds  geom.Rect
}

func wetRooms(p *plan.Plan) []wetRoom {
	var list []wetRoom
	for i := range p.Rooms {
		r := wetRoom{Room: &p.Rooms[i]}
		if r.Wet == "" {
			continue
		}
		for _, q := range r.Outline {
			r.outline = append(r.outline, geom.Point(q))
		}
		r.bounds = r.outline.Bounds()
		list = append(list, r)
	}
	return list
}

// wetFaces returns the water action class at each face of a wall: what is asked
// of the wall, or the severest of the rooms along the face.
func wetFaces(rooms []wetRoom, b *body) map[plan.Face]string {
	wet := map[plan.Face]string{}
	if c := b.wall.Require.Wet; c != "" {
		wet[plan.FaceA], wet[plan.FaceB] = c, c
		return wet
	}
	near := b.bounds().Grow(b.half + beside)
	for i := range rooms {
		r := &rooms[i]
		if r.Level != b.level.ID || !r.bounds.Overlaps(near) {
			continue
		}
		for f, v := range map[plan.Face]Length{plan.FaceA: b.half + beside, plan.FaceB: -b.half - beside} {
			for _, share := range []Length{1, 4, 7} {
				if r.Wet > wet[f] && r.outline.Contains(b.point(b.length*share/8, v)) {
					wet[f] = r.Wet
				}
			}
		}
	}
	return wet
}

// byClass returns the practice's value for a water action class; zero for a dry
// face.
func byClass(values []Length, class string) Length {
	if i := slices.Index(catalogue.WetClasses(), class); i >= 0 && i < len(values) {
		return values[i]
	}
	return 0
}

// boardFootOn returns the height at which the boards of a face begin.
func (w *wallLayout) boardFootOn(f plan.Face) Length {
	return w.out.Base + max(w.pr.BoardFloorGap.Value, byClass(w.pr.WetFloorGap.Value, w.body.wet[f]))
}

// sillOf returns the height at which an opening begins: one down to the floor
// goes on to the foot of a wall that stands on the slab.
func (w *wallLayout) sillOf(o *plan.Opening) Length {
	if o.Sill <= 0 && w.out.Base < 0 {
		return w.out.Base
	}
	return max(o.Sill, w.out.Base)
}

// underFoot returns what the floor track is fixed to: slabs and upstands are
// concrete.
func (w *wallLayout) underFoot() string {
	if w.body.wall.Stands == plan.OnSlab || w.out.Base > 0 {
		return plan.Concrete
	}
	return orElse(w.body.level.Floor, plan.Concrete)
}

// setFoot says how the wall meets the floor and in what order that is built.
func (w *wallLayout) setFoot() {
	l, f := w.body.level, &w.out.Foot
	screed, raised := l.Floor == plan.Screed, l.Floor == plan.RaisedFloor
	switch {
	case w.body.wall.Stands == plan.OnSlab:
		f.On = "the slab"
		f.Order = append(f.Order, "Walls first, then screed or raised floor: the lower edges of boards are kept out of screed and water by an edge strip and foil up to the finished floor.")
	case w.out.Base > 0:
		f.On = "an upstand"
	case screed:
		f.On = "the screed"
		f.Order = append(f.Order, "Screed first: it is hard, dry enough to be covered and marked for heating pipes before tracks are fixed; no anchor goes through it.")
	case raised:
		f.On = "the raised floor"
		f.Order = append(f.Order, "Raised floor first: a row of pedestals stands under the wall, and the maker of the floor has agreed to its load and its anchors.")
	}
	if demand := w.pr.FloorCutSound.Value; demand > 0 && w.body.rank.sound >= demand && (screed || raised) && w.body.wall.Stands != plan.OnSlab && w.out.Base <= 0 {
		f.Cut = true
		if !l.FloorParted {
			w.find(finding.Assumed, "floor-parted",
				words.F("stands on %s with a sound demand of %d dB: the floor is taken to be parted under it from wall to wall, or it carries the sound past", f.On, w.body.rank.sound),
				"have the floor parted (a joint in the screed, or a barrier down to the slab under a raised floor) and write `floor_parted: true` at the level, or write `stands: slab`")
		}
		f.Order = append(f.Order, "The floor is parted under the wall over its whole length before the track is fixed; no track bridges the joint.")
	}
	for _, face := range []plan.Face{plan.FaceA, plan.FaceB} {
		class := w.body.wet[face]
		if height := byClass(w.pr.WetEdge.Value, class); height > 0 && len(w.spec.Boards(face)) > 0 {
			f.Wet = append(f.Wet, WetEdge{Face: face, Class: class, Height: height})
		}
	}
	if len(f.Wet) > 0 {
		f.Order = append(f.Order, "The gap under the boards is filled with elastic sealant; the waterproofing with its tape goes on before tiles.")
	}
}

// UseWetEdge is the use of the tape along the edge of wet floors.
const UseWetEdge = "floor edge"

// sealWetEdges puts tape along the edge of wet floors, between the openings.
func (w *wallLayout) sealWetEdges() {
	for _, e := range w.out.Foot.Wet {
		p, ok := w.cat.SundryFor(catalogue.KindEdgeTape, e.Class, w.pr)
		face := slices.IndexFunc(w.out.Faces, func(f FaceLayout) bool { return f.Face == e.Face })
		if !ok || face < 0 {
			continue
		}
		outer := &w.out.Faces[face].Layers[len(w.out.Faces[face].Layers)-1]
		for _, piece := range outer.Pieces {
			piece.Outline.Edges(func(s geom.Segment) {
				if s.A.Y == outer.Bottom && s.B.Y == s.A.Y {
					w.out.Seals = append(w.out.Seals, Strip{Product: p.ID, Use: UseWetEdge, Line: -1, From: s.A, To: s.B})
				}
			})
		}
	}
}
