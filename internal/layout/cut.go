package layout

import (
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// cut is one end of a run: where frame and boards stop, plane by plane. End 0
// is the run's start, end 1 its end.
type cut struct {
	end     int
	kind    AbutmentKind
	with    string
	against string // material of the structure that it meets
	through bool
	// accounts tells which of two walls in one line counts the joint between
	// them.
	accounts bool
	toLeft   bool // at a corner: the other wall stands on face A's side
	// frame gives the u at which a frame stops at offset v; layer the u at
	// which board layer k (from 0) of one side stops.
	frame   func(v Length) Length
	layer   func(left bool, k int) Length
	closing *closing
	// left and right are by how much this wall's surfaces stand out before those of
	// the wall that carries it on; negative where they stand back.
	left, right Length
	// caps are the boards that close a free end.
	caps int
	// support is the u of an extra stud that this end needs in this wall to
	// back a butting corner's boards; only for through corners.
	support Length
}

// inward picks the more inward of two values of u at this end.
func inward(end int, a, b Length) Length {
	if end == 0 {
		return max(a, b)
	}
	return min(a, b)
}

// out returns u moved outward by d at the given end.
func out(end int, u, d Length) Length {
	if end == 0 {
		return u - d
	}
	return u + d
}

// cutOf returns how a wall stops at one of its ends.
func cutOf(ep *endPoint) cut {
	switch ep.kind {
	case Corner:
		return cornerCut(ep)
	case Tee:
		if ep.through {
			return throughCut(ep)
		}
		return sideCut(ep)
	case Straight:
		return straightCut(ep)
	case Structure:
		return structureCut(ep)
	}
	return freeCut(ep)
}

// drawnEnd returns the u of a wall's drawn end.
func (ep *endPoint) drawnEnd() Length {
	if ep.end == 0 {
		return 0
	}
	return ep.body.length
}

func freeCut(ep *endPoint) cut { return cappedCut(ep, ep.drawnEnd()) }

// cappedCut ends a wall at u with boards across its frame.
func cappedCut(ep *endPoint, u Length) cut {
	b := ep.body
	boards := b.spec.A
	if b.spec.Kind.OneSided() {
		boards = nil // the gap beside a lining is closed by what it lines
	}
	var thick Length
	for _, board := range boards {
		thick += board.Thickness
	}
	frame := out(ep.end, u, -thick)
	return cut{
		end: ep.end, kind: Free, caps: len(boards),
		frame: func(Length) Length { return frame },
		layer: func(_ bool, k int) Length {
			u := frame
			for i := 0; i <= k && i < len(boards); i++ {
				u = out(ep.end, u, boards[i].Thickness)
			}
			return u
		},
	}
}

func structureCut(ep *endPoint) cut {
	b, x := ep.body, ep.solid
	if ep.closing != nil {
		return closingCut(ep)
	}
	c := cut{end: ep.end, kind: Structure}
	at := func(Length) Length { return ep.drawnEnd() }
	if x != nil {
		c.with, c.against = x.id, x.material
		middle, _ := x.surface(ep, 0)
		at = func(v Length) Length {
			if u, ok := x.surface(ep, v); ok {
				return u
			}
			return middle
		}
	}
	c.frame = at
	c.layer = func(left bool, k int) Length { return at(b.midPlane(left, k)) }
	return c
}

// midPlane returns the offset of the middle of board layer k on one side.
func (b *body) midPlane(left bool, k int) Length {
	return (b.plane(left, k) + b.plane(left, k+1)) / 2
}

func straightCut(ep *endPoint) cut {
	b, o := ep.body, ep.partner.body
	other := b.local(o.at(ep.partner.end)).X
	u := (ep.drawnEnd() + other) / 2
	middle := b.local(o.at(ep.partner.end)).Y
	return cut{
		left: b.half - (middle + o.half), right: (middle - o.half) + b.half,
		end: ep.end, kind: Straight, with: o.wall.ID, accounts: b.ordinal > o.ordinal || b == o && ep.end == 1,
		frame: func(Length) Length { return u },
		layer: func(bool, int) Length { return u },
	}
}

// sideCut stops a wall at the finished surfaces of the walls it stands
// against; its frame at theirs where their boards are cut for it.
func sideCut(ep *endPoint) cut {
	return surfaceCut(ep.body, ep.end, ep.hosts, ep.body.within(ep.end, ep.hosts[0]), ep.body.at(ep.end), ep.cuts)
}

// surfaceCut is sideCut for a run that has a point of the plan inside it and
// stops near another.
func surfaceCut(b *body, end int, hosts []*body, middle, near geom.Point, cuts bool) cut {
	at := func(v Length, plane func(h *body, left bool) Length) Length {
		var stop Length
		for i, h := range hosts {
			u := b.meet(v, h, plane(h, h.local(middle).Y > 0), near)
			if i == 0 {
				stop = u
			}
			stop = inward(end, stop, u)
		}
		return stop
	}
	frame := (*body).surface
	if cuts {
		frame = (*body).frameEdge
	}
	return cut{
		end: end, kind: Tee, with: hosts[0].wall.ID,
		frame: func(v Length) Length { return at(v, frame) },
		layer: func(left bool, k int) Length { return at(b.midPlane(left, k), (*body).surface) },
	}
}

// breakCut stops a run at a wall or at structure that runs through it.
func breakCut(b *body, br wallBreak, end int, middle Length) cut {
	if br.other != nil {
		return surfaceCut(b, end, []*body{br.other}, b.point(middle, 0), b.point(br.u, 0), br.cut)
	}
	edge := func(v Length) (Length, bool) {
		for _, span := range br.solid.inside(b, v) {
			if span.Contains(br.u) {
				if end == 1 {
					return span.From, true
				}
				return span.To, true
			}
		}
		return br.u, false
	}
	axis, _ := edge(0)
	at := func(v Length) Length {
		// A body that runs along the wall's face is no end of it.
		if u, ok := edge(v); ok && (u-axis).Abs() <= 4*b.spec.Thickness {
			return u
		}
		return axis
	}
	return cut{
		end: end, kind: Structure, with: br.solid.id, against: br.solid.material, frame: at,
		layer: func(left bool, k int) Length { return at(b.midPlane(left, k)) },
	}
}

// cornerCut stops a wall at an L. The through wall's frame runs to the outer
// line of the other frame, and the other frame butts against it. On the
// outside the boards lap layer by layer, the through wall's over the other's;
// on the inside the butting wall's boards run against the through wall's.
func cornerCut(ep *endPoint) cut {
	b, o := ep.body, ep.partner.body
	innerLeft := b.frameAt(ep.end).Local(o.within(ep.partner.end, b)).Y > 0
	otherInnerLeft := o.frameAt(ep.partner.end).Local(b.within(ep.end, o)).Y > 0
	corner := b.at(ep.end)
	c := cut{end: ep.end, kind: Corner, with: o.wall.ID, through: ep.through, toLeft: innerLeft}
	near, far := o.frameEdge(otherInnerLeft), o.frameEdge(!otherInnerLeft)
	c.frame = func(v Length) Length {
		if ep.through {
			return b.meet(v, o, far, corner)
		}
		return b.meet(v, o, near, corner)
	}
	c.layer = func(left bool, k int) Length {
		inner := left == innerLeft
		laps := k // layers of the other wall that lie under this one's edge
		if ep.through != inner {
			laps = k + 1
		}
		return b.meet(b.midPlane(left, k), o, o.plane(otherInnerLeft == inner, laps), corner)
	}
	if ep.through {
		c.support = b.meet(b.frameEdge(innerLeft), o, near, corner)
	}
	return c
}

// run is a stretch of a wall between two cuts.
type run struct{ from, to cut }

// runs splits a wall at its breaks.
func (b *body) runs() []run {
	ends := [2]cut{cutOf(&b.ends[0]), cutOf(&b.ends[1])}
	list := []run{}
	start := ends[0]
	last := Length(0)
	for _, br := range b.breaks {
		list = append(list, run{start, breakCut(b, br, 1, (last+br.u)/2)})
		start, last = breakCut(b, br, 0, (br.u+b.length)/2), br.u
	}
	return append(list, run{start, ends[1]})
}

// frameExtent returns the stretch of a frame line of the given offset and
// depth that clears both cuts over its whole depth.
func (r run) frameExtent(offset, depth Length) geom.Interval {
	e := geom.Interval{From: r.from.frame(offset), To: r.to.frame(offset)}
	if depth == 0 {
		return e
	}
	// A column's corner may lie anywhere between the edges.
	for i := Length(-2); i <= 2; i++ {
		v := offset + depth*i/4
		e.From, e.To = inward(0, e.From, r.from.frame(v)), inward(1, e.To, r.to.frame(v))
	}
	return e
}

// inner returns the stretch of the axis between what the run meets: at a corner that
// it runs through, from the other wall's inner face.
func (r run) inner() geom.Interval {
	e := r.frameExtent(0, 0)
	for end, c := range []cut{r.from, r.to} {
		switch {
		case c.kind != Corner || !c.through:
		case end == 0:
			e.From = max(e.From, c.support)
		default:
			e.To = min(e.To, c.support)
		}
	}
	return e
}

// layerExtent returns the stretch of one board layer.
func (r run) layerExtent(f plan.Face, k int) geom.Interval {
	left := f == plan.FaceA
	return geom.Interval{From: r.from.layer(left, k), To: r.to.layer(left, k)}
}

// remembered returns the cut so that it works out where each plane stops once
// only: a run is asked again for every way to lay it out.
func (c cut) remembered() cut {
	type plane struct {
		left bool
		k    int
	}
	frames, layers := map[Length]Length{}, map[plane]Length{}
	frame, layer := c.frame, c.layer
	c.frame = func(v Length) Length {
		u, ok := frames[v]
		if !ok {
			u = frame(v)
			frames[v] = u
		}
		return u
	}
	c.layer = func(left bool, k int) Length {
		u, ok := layers[plane{left, k}]
		if !ok {
			u = layer(left, k)
			layers[plane{left, k}] = u
		}
		return u
	}
	return c
}
