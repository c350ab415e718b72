package plan

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// Practices that ship with the program. A user's catalogue may add others.
const (
	Metric = "metric"
	US     = "us"
)

// checker checks a plan.
type checker struct {
	plan     *Plan
	places   yamlfile.Places
	list     *finding.List
	root     *spot
	levels   []string
	buildups []string
}

// Validate checks the plan against itself: that ids are unique and references
// lead somewhere, that sizes make sense, that openings lie in their walls and
// walls do not run through each other. Findings have paths but no places. An
// error says that the object could not be laid out: Usable tells which walls
// that leaves.
func (p *Plan) Validate() finding.List { return p.validate(yamlfile.Places{}) }

// validate is Validate that can name lines of the file.
func (p *Plan) validate(places yamlfile.Places) finding.List {
	var list finding.List
	c := p.checker(&list)
	c.places = places
	c.head()
	if !c.ofSize() {
		return list
	}
	for i := range p.Levels {
		c.level(&p.Levels[i], c.root.entry("levels", i, p.Levels[i].ID))
	}
	for i := range p.Structure {
		c.structure(&p.Structure[i], c.root.entry("structure", i, p.Structure[i].ID))
	}
	for i := range p.Rooms {
		c.room(&p.Rooms[i], c.root.entry("rooms", i, p.Rooms[i].ID))
	}
	unusable := map[string]bool{}
	for i := range p.BuildUps {
		before := list.Count(finding.Error)
		c.buildUp(&p.BuildUps[i], c.root.entry("buildups", i, p.BuildUps[i].ID))
		if b := &p.BuildUps[i]; p.BuildUpByID(b.ID) == b && (b.Unread || list.Count(finding.Error) > before) {
			unusable[b.ID] = true
		}
	}
	sloping := p.sloping()
	for i := range p.Walls {
		s := c.root.entry("walls", i, p.Walls[i].ID)
		c.wall(&p.Walls[i], s)
		if !sloping[p.Walls[i].Level] {
			c.underSoffit(&p.Walls[i], s)
		}
		if b := p.Walls[i].BuildUp; unusable[b] {
			s.wrong("buildup-unusable", "buildup", words.F("left out because of build-up %s", b), "")
		}
		c.contents(&p.Walls[i], s)
	}
	c.ids()
	c.junctions()
	c.crossings()
	if len(list) == mostFindings {
		list.Add(finding.Finding{Code: "more-findings", Severity: finding.Error, What: "there is more than can be listed", Fix: "mend what is listed and check again"})
	}
	return list
}

func (p *Plan) checker(list *finding.List) *checker {
	c := &checker{plan: p, list: list, root: &spot{list: list, index: -1}}
	for i := range p.Levels {
		c.levels = append(c.levels, p.Levels[i].ID)
	}
	for i := range p.BuildUps {
		c.buildups = append(c.buildups, p.BuildUps[i].ID)
	}
	return c
}

// Limits far beyond any plan, which keep the check quick.
const (
	mostKinds   = 1000 // levels, and build-ups
	mostThings  = 1000 // openings, boxes and fixings of one wall
	mostCorners = 300  // of an outline that is checked for crossings, side by side

	mostFindings = 100_000
)

// ofSize reports whether the plan is small enough to be checked.
func (c *checker) ofSize() bool {
	ok := true
	limit := func(list string, n int) {
		if n > mostKinds {
			c.root.wrong("plan-too-large", list, words.F("the plan has %d %s; nothing more was checked", n, list), words.F("keep to %d", mostKinds))
			ok = false
		}
	}
	limit("levels", len(c.levels))
	limit("buildups", len(c.buildups))
	return ok
}

// head checks what stands above the lists.
func (c *checker) head() {
	p, s := c.plan, c.root
	if p.Version != Version {
		s.wrong("unknown-version", "nogging", words.F("plan format %d is not known", p.Version), words.F("write nogging: %d", Version))
	}
	switch shipped := []string{Metric, US}; {
	case p.Practice == "":
		s.assumed("practice-assumed", "practice", "no practice is named; the metric one is taken", "write practice: metric or practice: us")
	case !slices.Contains(shipped, p.Practice) && len(p.Catalogue) == 0:
		s.wrong("unknown-practice", "practice", words.F("practice %q is not in the catalogue", p.Practice), yamlfile.Suggest(p.Practice, "practices", shipped))
	}
	c.georeference()
	climate := s.part("climate")
	if h := p.Climate.Humidity; h < 0 || h > 100 {
		climate.wrong("out-of-range", "humidity", words.F("humidity %g is not between 0 and 100 per cent", h), "write the relative humidity in per cent, such as 50")
	}
	if t := p.Climate.Temperature; t < -50 || t > 60 {
		climate.wrong("out-of-range", "temperature", words.F("%g degrees Celsius is not a temperature on site", t), "write degrees Celsius, such as 20")
	}
	p.Seismic.check(s.part("seismic"))
	if len(p.Levels) == 0 {
		s.wrong("no-levels", "levels", "the plan has no level, so nothing can stand in it", "add one: levels: [{id: L1, clear_height: 2750}]")
	}
	if len(p.Walls) == 0 {
		s.doubt("no-walls", "walls", "the plan has no walls", "add them, such as walls: [{id: L1-01, level: L1, line: [[0, 0], [4000, 0]], buildup: P75}]")
	}
}

func (c *checker) level(l *Level, s *spot) {
	l.loads(s)
	if l.ClearHeight <= 0 {
		s.wrong("no-clear-height", "clear_height", words.F("the clear height is %s", mm(l.ClearHeight)), "write the height from floor to soffit, such as clear_height: 2750")
	} else {
		c.height(s, "clear_height", l.ClearHeight)
	}
	s.choice("Level", "floor", l.Floor)
	s.choice("Level", "soffit", l.Soffit)
	s.notNegative("deflection", l.Deflection)
	c.movementJoints(l, s)
	c.deck(l, s)
	s.notNegative("floor_depth", l.FloorDepth)
	c.usual(s, "floor_depth", l.FloorDepth, usualFloor)
}

func (c *checker) structure(x *Structure, s *spot) {
	c.standsOn(x.Level, s)
	s.choice("Structure", "kind", x.Kind)
	s.choice("Structure", "material", x.Material)
	switch {
	case len(x.Outline) > 0 && len(x.Line) > 0:
		s.wrong("structure-twice", "line", "both a line and an outline are given", "keep one of the two")
	case len(x.Outline) > 0:
		c.outline("structure", x.Outline, s)
	case len(x.Line) != 2:
		s.wrong("structure-shape", "line", words.F("the centre line has %s, not 2", words.Count(len(x.Line), "1 point", "%d points")), "give the two ends of the line and a thickness, or an outline")
	default:
		if x.Line[0] == x.Line[1] {
			s.wrong("structure-shape", "line", "the centre line has no length", "give two different ends")
		}
		s.positive("thickness", x.Thickness)
		c.usual(s, "thickness", x.Thickness, usualMasonry)
		c.length(s, geom.Point(x.Line[0]).Dist(geom.Point(x.Line[1])))
	}
}

func (c *checker) room(r *Room, s *spot) {
	c.standsOn(r.Level, s)
	s.choice("Room", "wet", r.Wet)
	r.Climate.check(s.part("climate"))
	c.outline("room", r.Outline, s)
}

// standsOn checks that a level exists. Where there is none at all, that is said
// once for the plan.
func (c *checker) standsOn(level string, s *spot) {
	if len(c.levels) == 0 {
		return
	}
	s.reference("unknown-level", "level", level, "levels", c.levels)
}

// outline checks that corners close to a body with an area.
func (c *checker) outline(kind string, corners []Pt, s *spot) {
	code := kind + "-not-closed"
	p := polygon(corners)
	if n := len(corners); n > 1 && corners[0] == corners[n-1] {
		s.add(finding.Note, "corner-repeated", "outline", "the last corner repeats the first", "leave it out; outlines close by themselves")
	}
	switch area := p.Area().SquareMetres(); {
	case len(p) < 3:
		s.wrong(code, "outline", words.F("%s do not close an outline", words.Count(len(p), "1 different corner", "%d different corners")), "give at least 3 corners in order")
		return
	case len(p) > mostCorners:
		s.add(finding.Note, "too-many-corners", "outline", words.F("%d corners are too many to check for crossings", len(p)), "leave out corners that make no difference")
	default:
		if a, b, found := crossing(p); found {
			s.wrong(kind+"-crosses-itself", "outline", words.F("the side %s meets the side %s", side(a), side(b)), "put the corners in order around the outline")
			return
		}
		if area < 1e-4 {
			s.wrong(code, "outline", words.F("the outline encloses only %.6f m²", area), "check the corners; numbers without a unit are millimetres")
		}
	}
}

// polygon returns the corners without repetitions.
func polygon(corners []Pt) geom.Polygon {
	var p geom.Polygon
	for _, c := range corners {
		if len(p) == 0 || p[len(p)-1] != geom.Point(c) {
			p = append(p, geom.Point(c))
		}
	}
	if len(p) > 1 && p[0] == p[len(p)-1] {
		p = p[:len(p)-1]
	}
	return p
}

// crossing returns two sides of an outline that cross or touch, or of which
// one runs back over the other.
func crossing(p geom.Polygon) (a, b geom.Segment, found bool) {
	for i := range p {
		s := geom.Segment{A: p[i], B: p[(i+1)%len(p)]}
		t := geom.Segment{A: s.B, B: p[(i+2)%len(p)]}
		if d, e := s.Dir(), t.Dir(); d.Dot(e) < 0 && d.Cross(e) == 0 {
			return s, t, true
		}
	}
	return p.SelfCrossing()
}

// side writes a side for people.
func side(s geom.Segment) string {
	return fmt.Sprintf("[%s, %s]–[%s, %s]", s.A.X, s.A.Y, s.B.X, s.B.Y)
}

// ids checks that the things of one kind all have ids, each its own.
func (c *checker) ids() {
	p := c.plan
	unique(c, "levels", p.Levels, func(x *Level) string { return x.ID })
	unique(c, "structure", p.Structure, func(x *Structure) string { return x.ID })
	unique(c, "rooms", p.Rooms, func(x *Room) string { return x.ID })
	unique(c, "buildups", p.BuildUps, func(x *BuildUp) string { return x.ID })
	unique(c, "walls", p.Walls, func(x *Wall) string { return x.ID })
	c.openingIDs()
}

func unique[T any](c *checker, list string, all []T, id func(*T) string) {
	first := make(map[string]int, len(all))
	for i := range all {
		name := id(&all[i])
		s := c.root.entry(list, i, name)
		if strings.TrimSpace(name) == "" {
			s.wrong("missing-id", "id", "the id is empty", "give each its own short mark")
			continue
		}
		if before, twice := first[name]; twice {
			path := fmt.Sprintf("%s[%d]", list, before)
			s.wrong("duplicate-id", "id", words.F("%s%s has the id %q already", path, c.inLine(path), name), "give each its own id")
			continue
		}
		first[name] = i
	}
}

// inLine says in which line of the file a value stands, where that is known.
func (c *checker) inLine(path string) string {
	if line := c.places.At(path).Line; line > 0 {
		return fmt.Sprintf(" in line %d", line)
	}
	return ""
}

// openingIDs checks the ids that openings are known by throughout the plan.
func (c *checker) openingIDs() {
	type place struct{ wall, path string }
	first := map[string]place{}
	for i := range c.plan.Walls {
		w := &c.plan.Walls[i]
		s := c.root.entry("walls", i, w.ID)
		for j := range w.Openings {
			id := w.OpeningID(j)
			before, twice := first[id]
			if twice && w.ID != "" {
				s.entry("openings", j, id).wrong("duplicate-id", "id", words.F("an opening of wall %s%s has the id %q already", before.wall, c.inLine(before.path), id), "give each opening its own id, or none")
			}
			first[id] = place{w.ID, s.entry("openings", j, id).path("")}
		}
	}
}
