package layout

import (
	"cmp"
	"math"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Curve is how a curved wall runs in plan.
type Curve struct {
	Axis    geom.Arc `json:"axis"`    // in the middle of the finished thickness
	Drawn   Length   `json:"drawn"`   // radius of the line by which the plan gives distances along the wall
	Inner   Length   `json:"inner"`   // radius of the finished face on the inside of the curve
	Outer   Length   `json:"outer"`   // and on its outside
	Spacing Length   `json:"spacing"` // greatest distance of stud centres on the outside
}

// Bend is how the boards of one layer follow a curved wall.
type Bend struct {
	Radius Length `json:"radius"`          // of the middle of the boards, on which u and all sizes of the layer are measured
	Lying  bool   `json:"lying,omitempty"` // the boards lie, with their long side along the curve
	Wet    bool   `json:"wet,omitempty"`   // they are wetted to be bent
	Least  Length `json:"least"`           // radius to which they can be bent in that way; 0 if they cannot
}

// follows reports whether the boards can be bent to their radius.
func (b Bend) follows() bool { return b.Least > 0 && b.Radius >= b.Least }

// leastInner is the least radius of the inside of a curved wall: within it the
// tracks' flanges fold over each other.
const leastInner = 100 * quantity.Millimetre

// turns tells whether a wall has room to turn on the inside of its curve.
func turns(w *plan.Wall, spec *buildup.BuildUp, found *finding.List) bool {
	drawn, ok := w.Arc()
	if !ok {
		return true
	}
	inner := drawn.Offset(lineShift(w, spec)).Radius - spec.Thickness/2
	if inner >= leastInner {
		return true
	}
	found.Add(finding.Finding{
		Code: "curve-too-tight", Severity: finding.Error, Object: w.ID,
		What: words.F("turns with a radius of %s mm at its line; at %s mm thick that leaves %s mm on the inside, and %s mm are needed",
			mm(drawn.Radius), spec.Thickness, mm(inner), leastInner),
		Fix: words.F("make the radius %s mm or more, or the wall thinner", mm(drawn.Radius+leastInner-inner)),
	})
	return false
}

// lineShift returns how far to the left of its drawn line a wall's axis lies.
func lineShift(w *plan.Wall, spec *buildup.BuildUp) Length {
	switch w.Justify {
	case plan.OnFaceA:
		return -spec.Thickness / 2
	case plan.OnFaceB:
		return spec.Thickness / 2
	}
	return 0
}

// curve prepares a curved wall: how close its studs stand, and how the boards of
// each layer are bent.
func (w *wallLayout) curve() {
	arc := w.body.arc
	if arc == nil {
		return
	}
	c := &Curve{
		Axis: *arc, Drawn: arc.RadiusAt(-lineShift(w.body.wall, w.spec)), Inner: arc.Radius - w.body.half, Outer: arc.Radius + w.body.half,
		Spacing: w.pr.CurveSpacingFor(arc.Radius, w.spec.Spacing),
	}
	w.out.Curve = c
	spec := *w.spec
	spec.Spacing = Length(float64(c.Spacing) * (float64(arc.Radius) / float64(c.Outer)))
	spec.Spacing -= spec.Spacing % quantity.Millimetre
	w.spec = &spec
	w.bends()
}

// bends decides how every layer is bent: all boards stand if all can, else they
// lie, dry if they can and else wetted. What cannot be bent is told.
func (w *wallLayout) bends() {
	stand := true
	each := func(f func(face plan.Face, k int, board *catalogue.Board, rule catalogue.BendRule, r Length)) {
		for _, face := range bothFaces {
			for k, board := range w.spec.Boards(face) {
				rule, _ := w.pr.BendFor(board)
				f(face, k, board, rule, w.layerRadius(face, k))
			}
		}
	}
	each(func(_ plan.Face, _ int, _ *catalogue.Board, rule catalogue.BendRule, r Length) {
		stand = stand && rule.Across > 0 && r >= rule.Across
	})
	w.bent = map[sheet]Bend{}
	each(func(face plan.Face, k int, board *catalogue.Board, rule catalogue.BendRule, r Length) {
		b := bendOf(rule, r, stand)
		w.bent[sheet{face, k}] = b
		switch {
		case !b.follows():
			w.tellUnbent(face, k, board, rule, b)
		case b.Wet:
			w.find(finding.Assumed, "board-bent-wet",
				words.F("%s on face %s, layer %d, follows a radius of %s mm: it is taken to be wetted, bent and left to dry before it is fixed; dry it bends to %s mm", board.ID, faceName(face), k+1, mm(r), rule.Along),
				cmp.Or(w.thinner(board, r), "make the radius larger if it shall be bent dry"))
		}
	})
}

// sheet names one layer of one face.
type sheet struct {
	face plan.Face
	k    int
}

func bendOf(rule catalogue.BendRule, r Length, stand bool) Bend {
	switch {
	case stand:
		return Bend{Radius: r, Least: rule.Across}
	case rule.AlongWet > 0 && (rule.Along == 0 || r < rule.Along):
		return Bend{Radius: r, Least: rule.AlongWet, Lying: true, Wet: true}
	}
	return Bend{Radius: r, Least: rule.Along, Lying: true}
}

// layerRadius returns the radius of the middle of one layer's boards.
func (w *wallLayout) layerRadius(f plan.Face, k int) Length {
	return w.body.arc.RadiusAt(w.body.midPlane(f == plan.FaceA, k))
}

// tellUnbent tells of boards that cannot follow the curve, with what could.
func (w *wallLayout) tellUnbent(f plan.Face, k int, board *catalogue.Board, rule catalogue.BendRule, b Bend) {
	can := words.Text("boards of that thickness and kind are not bent")
	fix := w.thinner(board, b.Radius)
	if b.Least > 0 {
		can = words.F("it bends to %s mm and no tighter", b.Least)
		if b.Wet {
			can = words.F("even wetted it bends to %s mm and no tighter", b.Least)
		}
		wider := words.F("make the radius of the axis %s mm or more", mm(w.body.arc.Radius+b.Least-b.Radius+quantity.Millimetre/2))
		if fix != "" {
			wider = words.F("%s, or %s", fix, wider)
		}
		fix = wider
	}
	w.find(finding.Error, "board-cannot-bend",
		words.F("%s on face %s, layer %d, would have to follow a radius of %s mm; %s, so the layer is left out", board.ID, faceName(f), k+1, mm(b.Radius), can),
		cmp.Or(fix, "use thinner boards in more layers"))
}

// thinner proposes the thickest boards of the same standard, thinner than these,
// that can be bent dry to a radius, or failing that wetted; nothing if there are
// none.
func (w *wallLayout) thinner(board *catalogue.Board, r Length) words.Text {
	for _, wet := range []bool{false, true} {
		var best *catalogue.Board
		for i := range w.cat.Boards {
			o := &w.cat.Boards[i]
			rule, ok := w.pr.BendFor(o)
			least := rule.Along
			if wet {
				least = rule.AlongWet
			}
			if ok && o.Standard == board.Standard && o.Thickness < board.Thickness && least > 0 && r >= least && (best == nil || o.Thickness > best.Thickness) {
				best = o
			}
		}
		if best == nil {
			continue
		}
		how := words.Text("dry")
		if wet {
			how = "wetted"
		}
		n := (board.Thickness + best.Thickness - 1) / best.Thickness
		if n == 1 {
			return words.F("use %s, which follows it %s", best.ID, how)
		}
		return words.F("use %d layers of %s instead, which follow it %s", n, best.ID, how)
	}
	return ""
}

// clearWidth returns the straight width of opening i in a curved wall; 0 in a
// straight one.
func (w *wallLayout) clearWidth(i int) Length {
	if w.body.arc == nil {
		return 0
	}
	return w.body.drawn.Openings[i].Width
}

// straightWidth returns the width of one of the wall's openings as the plan
// gives it.
func (w *wallLayout) straightWidth(o *plan.Opening) Length {
	for i := range w.body.wall.Openings {
		if o == &w.body.wall.Openings[i] {
			return w.body.drawn.Openings[i].Width
		}
	}
	return o.Width
}

// alongAxis returns the length along the axis of a stretch of a layer, rounded
// down so that a piece cut to it never comes out larger than the board.
func (w *wallLayout) alongAxis(l, radius Length) Length {
	return Length(math.Floor(float64(l)*(float64(w.body.arc.Radius)/float64(radius)))) - 1
}

// planBent chooses the joints of one layer of a curved wall: over the whole
// height where its boards stand, course by course where they lie. A layer that
// cannot be bent gets none.
func (w *wallLayout) planBent(l *layerPlan, module Length, plans []*layerPlan) []*layerPlan {
	bend := w.bent[sheet{l.face, l.k}]
	w.layer(l.face, l.k).Bend = &bend
	if !bend.follows() {
		return plans
	}
	l.width = w.alongAxis(l.board.Width, bend.Radius)
	if !bend.Lying {
		w.chooseJoints(l, module, plans)
		return append(plans, l)
	}
	l.width = w.alongAxis(longest(l.board, w.pr), bend.Radius)
	l.lying = true
	levels := w.courses(l, plans)
	for i := 1; i < len(levels); i++ {
		c := *l
		c.course = geom.Interval{From: levels[i-1], To: levels[i]}
		c.first, c.last = i == 1, i == len(levels)-1
		w.chooseJoints(&c, module, plans)
		plans = append(plans, &c)
	}
	return plans
}

// beside reports whether two layers may have joints at one height.
func (l *layerPlan) beside(o *layerPlan) bool {
	return !l.lying || !o.lying || l.course.Overlaps(o.course)
}

// follows reports whether l is the course on top of o.
func (l *layerPlan) follows(o *layerPlan) bool {
	return l.lying && o.lying && o.face == l.face && o.k == l.k && o.course.To == l.course.From
}

// Costs by which the heights of courses are chosen; only their ratios matter.
const (
	costCourse      = 100  // one more course
	costCourseRun   = 1000 // a joint that runs on from an opening's corner
	costCourseClose = 800  // a joint too close to one of the layer beneath
	costCourseThin  = 500  // a course lower than the least piece
	costCourseCut   = 10   // a first course that is not a whole board
	courseStep      = 50 * quantity.Millimetre
)

// courses returns the heights between which the courses of a lying layer run,
// from below: whole boards but for the first and the last, so that boards meet
// with their own long edges, clear of the corners of openings and staggered from
// the courses of the layer beneath.
func (w *wallLayout) courses(l *layerPlan, plans []*layerPlan) []Length {
	layer := w.layer(l.face, l.k)
	low, high := layer.Bottom, layer.Top.Max(l.extent.From, l.extent.To)
	width := l.board.Width
	var best []Length
	least := 0
	for first := width; first >= max(w.pr.MinPiece.Value, courseStep); first -= courseStep {
		levels := []Length{low}
		for z := low + first; z < high; z += width {
			levels = append(levels, z)
		}
		levels = append(levels, high)
		cost := costCourse*len(levels) + w.courseCost(l, levels[1:len(levels)-1], plans)
		if first != width && len(levels) > 2 {
			cost += costCourseCut
		}
		if len(levels) > 2 && high-levels[len(levels)-2] < w.pr.MinPiece.Value {
			cost += costCourseThin
		}
		if best == nil || cost < least {
			best, least = levels, cost
		}
	}
	return best
}

// courseCost rates the level joints between courses.
func (w *wallLayout) courseCost(l *layerPlan, joints []Length, plans []*layerPlan) int {
	cost := 0
	for _, z := range joints {
		for _, o := range w.out.Openings {
			clear := w.pr.JointJamb.Value
			if o.U.Overlaps(l.extent) && ((z-o.Sill).Abs() < clear || (z-o.Head).Abs() < clear) {
				cost += costCourseRun
			}
		}
		for _, o := range plans {
			if o.lying && o.face == l.face && o.k == l.k-1 && !o.last && (z-o.course.To).Abs() < w.pr.CrossJointOffset.Value {
				cost += costCourseClose
			}
		}
	}
	return cost
}

// boardCourse cuts one course of lying boards into pieces.
func (b *boarder) boardCourse() {
	cuts, course := b.plan.cuts, b.plan.course
	high := course.To
	if b.plan.last {
		high = 1 << 60
	}
	b.pieces = b.room.pieces[:0]
	for i := 1; i < len(cuts); i++ {
		c := column{from: cuts[i-1], to: cuts[i], left: CutEdge, right: CutEdge}
		c.slabs = region(b.layer.Top, b.layer.Bottom, c.from, c.to, b.boardHoles(b.layer.Top), []Length{course.From, course.To})
		if !b.plan.last {
			b.crossJoint(c, course.To, b.jointKind(Factory, Factory))
		}
		c.slabs = cutAcross(c.slabs, course.From, high)
		if i > 1 {
			b.jointTo(c)
		}
		for _, group := range connected(c.slabs) {
			b.addPiece(c, c.slabs, group)
			b.lay(&b.pieces[len(b.pieces)-1])
		}
		b.screw(c, c.slabs)
		b.last = c
	}
	b.layer.Pieces = append(b.layer.Pieces[:len(b.layer.Pieces):len(b.layer.Pieces)], b.pieces...)
	b.room.pieces = b.pieces
}

// lay turns a piece on its side: its width is then across the board, up the
// wall. In a course lower than a board the edge at the floor or soffit is cut.
func (b *boarder) lay(p *Piece) {
	p.Lying, p.Rule = true, "boards lie round the curve"
	p.Width, p.Height = p.Height, p.Width
	p.Left, p.Right = Factory, Factory
	switch whole := b.plan.board.Width-b.plan.course.Len() < quantity.Millimetre; {
	case whole:
	case b.plan.first && !b.plan.last:
		p.Left = CutEdge
	default:
		p.Right = CutEdge
	}
}
