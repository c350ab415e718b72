package app

import (
	"fmt"
	"io"
	"strings"
	"time"

	"nogging/internal/exchange/bcf"
	"nogging/internal/exchange/ifc/write"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/words"
)

// Others whom findings concern.
const (
	architect = "Architect"
	engineer  = "Structural engineer"
	services  = "Services"
)

// concerns says whom a finding concerns beside those who build the partitions, by its
// code: what others have drawn or have to say. Common practice.
var concerns = map[string]struct{ who, kind string }{
	"wall-through-structure":  {engineer, "Clash"},
	"wall-above-soffit":       {engineer, "Clash"},
	"end-at-glass":            {architect, "Clash"},
	"end-short":               {architect, "Clash"},
	"walls-cross":             {architect, "Clash"},
	"walls-overlap":           {architect, "Clash"},
	"openings-overlap":        {architect, "Clash"},
	"opening-too-high":        {architect, "Clash"},
	"opening-outside-wall":    {architect, "Clash"},
	"opening-below-base":      {architect, "Clash"},
	"pocket-outside-wall":     {architect, "Clash"},
	"leaf-larger":             {architect, "Clash"},
	"tee-at-opening":          {architect, "Clash"},
	"no-buildup":              {architect, "Request"},
	"unknown-demand":          {architect, "Request"},
	"leaf-mass-unknown":       {architect, "Request"},
	"leaf-too-heavy":          {engineer, "Request"},
	"movement-joint-line":     {engineer, "Request"},
	"wall-on-joint":           {engineer, "Clash"},
	"free-top-unheld":         {engineer, "Request"},
	"deck-without-ribs":       {engineer, "Request"},
	"service-wider-than-hole": {services, "Clash"},
	"pipe-in-opening":         {services, "Clash"},
	"pipe-in-stud":            {services, "Clash"},
	"pipe-through-header":     {services, "Clash"},
	"pipe-through-jamb":       {services, "Clash"},
	"pipe-too-thick":          {services, "Clash"},
	"pipe-outside-wall":       {services, "Clash"},
	"pipes-meet":              {services, "Clash"},
	"boxes-back-to-back":      {services, "Clash"},
	"box-in-pocket":           {services, "Clash"},
	"fixing-without-backing":  {services, "Request"},
	"closing-piece-too-thick": {architect, "Clash"},
	"closing-piece-too-thin":  {architect, "Clash"},
	"room-crosses-itself":     {architect, "Clash"},
	"structure-shape":         {engineer, "Request"},
	"wall-interrupted":        {architect, "Clash"},
	"joint-at-jamb":           {architect, "Clash"},
	"fixing-across-joint":     {architect, "Clash"},
	"wall-too-short":          {architect, "Request"},
	"pipe-through-gusset":     {services, "Clash"},
	"no-clear-height":         {architect, "Request"},
	"pipe-at-box":             {services, "Clash"},
	"floor-parted":            {architect, "Request"},
}

// topics gathers what concerns others: findings of the plan and the layout, proofs that
// lack something or fail, and what nobody has said yet.
type topics struct {
	*Job
	list    []bcf.Topic
	walls   map[string]*layout.Wall
	opening map[string]string // wall of an opening
}

// exportTopics writes what concerns others, with the walls' ids in the building model.
func (j *Job) exportTopics(out io.Writer, date time.Time) error {
	t := &topics{Job: j, walls: map[string]*layout.Wall{}, opening: map[string]string{}}
	for _, w := range j.Layout.Walls {
		t.walls[w.ID] = w
		for i := range w.Openings {
			t.opening[w.Openings[i].ID] = w.ID
		}
	}
	for i := range j.Findings {
		t.finding(&j.Findings[i])
	}
	t.levels()
	proofs := j.proofs()
	for i := range j.Plan.Walls {
		if w := &j.Plan.Walls[i]; t.walls[w.ID] != nil {
			t.proven(w.ID, proofs(w.ID))
			t.unsaid(w)
		}
	}
	if given, err := time.Parse(time.DateOnly, j.Plan.Project.Date); err == nil {
		date = given
	}
	return bcf.Write(out, bcf.Project{
		Key: j.Plan.Project.Number + "\x00" + j.Plan.Project.Name, Name: j.Plan.Project.Name, Model: write.ID(j.Plan, "project"), Author: "nogging", Date: date,
	}, t.list)
}

// add adds a topic about an object: a wall, an opening, structure or a level.
func (t *topics) add(who, kind, priority, key, object, title, text string, others ...string) {
	topic := bcf.Topic{Key: key + "\x00" + object, Title: title, Type: kind, Priority: priority, Label: who, Description: text}
	for _, o := range append([]string{object}, others...) {
		if id := t.component(o); id != "" {
			topic.Components = append(topic.Components, id)
		}
	}
	if w := t.walls[t.wallOf(object)]; w != nil {
		topic.View = t.view(w, object)
	} else if l := t.Plan.LevelByID(object); l != nil {
		topic.View = t.fromAbove(l)
	}
	t.list = append(t.list, topic)
}

func (t *topics) wallOf(object string) string {
	if w, ok := t.opening[object]; ok {
		return w
	}
	return object
}

// component is the id in the building model of what a mark of the plan names.
func (t *topics) component(object string) string {
	switch wall := t.wallOf(object); {
	case wall != object:
		return write.ID(t.Plan, "opening", wall, object)
	case t.walls[object] != nil:
		return write.ID(t.Plan, "wall", object)
	case t.Plan.LevelByID(object) != nil:
		return write.ID(t.Plan, "storey", object)
	}
	for i := range t.Plan.Structure {
		if t.Plan.Structure[i].ID == object {
			return write.ID(t.Plan, "structure", object)
		}
	}
	for i := range t.Plan.Rooms {
		if t.Plan.Rooms[i].ID == object {
			return write.ID(t.Plan, "room", object)
		}
	}
	return ""
}

// view looks squarely at face A of a wall, or at an opening in it.
func (t *topics) view(w *layout.Wall, object string) *bcf.View {
	line := w.Line
	place := geom.Pt((line.A.X+line.B.X)/2, (line.A.Y+line.B.Y)/2)
	wide, low, high := line.Length().Metres(), w.Base.Metres(), w.Base.Metres()
	for _, p := range w.Top {
		high = max(high, p.Y.Metres())
	}
	for i := range w.Openings {
		if o := &w.Openings[i]; o.ID == object {
			place = w.Point((o.U.From+o.U.To)/2, 0)
			wide, low, high = o.Width().Metres()+2, o.Sill.Metres(), o.Head.Metres()
		}
	}
	z := (low + high) / 2
	if l := t.Plan.LevelByID(w.Level); l != nil {
		z += l.Elevation.Metres()
	}
	g := &t.Plan.Project.Georeference
	d := line.Dir() // face A is on its left: looking at it is looking to the right
	return bcf.Toward([3]float64{g.OriginX + place.X.Metres(), g.OriginY + place.Y.Metres(), z}, [2]float64{d.Y, -d.X}, wide, high-low)
}

// fromAbove looks down at the walls of a level.
func (t *topics) fromAbove(l *plan.Level) *bcf.View {
	var points []geom.Point
	for _, w := range t.Layout.Walls {
		if w.Level == l.ID {
			points = append(points, w.Line.A, w.Line.B)
		}
	}
	if len(points) == 0 {
		return nil
	}
	box, g := geom.Bounds(points...), &t.Plan.Project.Georeference
	place := [3]float64{g.OriginX + (box.Min.X+box.Max.X).Metres()/2, g.OriginY + (box.Min.Y+box.Max.Y).Metres()/2, (l.Elevation + l.ClearHeight).Metres()}
	return bcf.Down(place, (box.Max.X - box.Min.X).Metres(), (box.Max.Y - box.Min.Y).Metres())
}

// finding takes a finding that concerns others.
func (t *topics) finding(f *finding.Finding) {
	c, ok := concerns[f.Code]
	if !ok || f.Object == "" {
		return
	}
	priority := map[finding.Severity]string{finding.Error: "High", finding.Warning: "Normal"}[f.Severity]
	if priority == "" {
		priority = "Low"
	}
	text := f.What.String()
	if f.Fix != "" {
		text += "\n" + f.Fix.String()
	}
	t.add(c.who, c.kind, priority, "finding "+f.Code+" "+f.Other+" "+f.Path, f.Object, short(f.Object+": "+f.What.String()), text, f.Other)
}

// longest is the length of a title: more is read in the description.
const longest = 100

// short cuts a title at a word.
func short(s string) string {
	if len([]rune(s)) <= longest {
		return s
	}
	cut := string([]rune(s)[:longest])
	if i := strings.LastIndexByte(cut, ' '); i > 0 {
		cut = cut[:i]
	}
	return cut + " …"
}

// levels asks for the deflection of slabs that are not said to have one.
func (t *topics) levels() {
	under := map[string][]string{}
	for _, w := range t.Layout.Walls {
		if w.Head.Kind != plan.HeadFree {
			under[w.Level] = append(under[w.Level], w.ID)
		}
	}
	for i := range t.Plan.Levels {
		if l := &t.Plan.Levels[i]; l.Deflection == 0 && len(under[l.ID]) > 0 {
			t.add(engineer, "Request", "High", "deflection", l.ID, fmt.Sprintf("%s: how far does the slab above deflect?", l.ID),
				fmt.Sprintf("The heads of %s under the slab are chosen by its deflection under live load, which is not given.", words.Count(len(under[l.ID]), "1 wall", "%d walls")))
		}
	}
}

// proven takes the proofs that somebody else has to help with.
func (t *topics) proven(wall string, checks []proof.Check) {
	for i := range checks {
		c := &checks[i]
		who := architect
		if c.Need == proof.Structure || c.Need == proof.FloorLoad {
			who = engineer
		}
		text := fmt.Sprintf("%s: %s", c.Name, c.Result())
		if c.Asked != "" {
			text += "\nAsked: " + c.Asked
		}
		if c.Advice != "" {
			text += "\n" + c.Advice.String()
		}
		key := "proof " + string(c.Need) + " " + c.Name
		switch {
		case c.Verdict == proof.Fails:
			t.add(who, "Request", "High", key, wall, short(fmt.Sprintf("%s fails for %s: %s", wall, c.Need, c.Name)), text)
		case c.Verdict == proof.NotProven && len(c.Missing) > 0:
			t.add(who, "Request", "Normal", key, wall, short(fmt.Sprintf("%s is not proven for %s: %s", wall, c.Need, c.Missing[0])), text+"\nMissing: "+strings.Join(c.Missing, "; "))
		}
	}
}

// unsaid asks for what the plan does not say of openings in walls that have to resist fire.
func (t *topics) unsaid(w *plan.Wall) {
	if w.Require.Fire == "" {
		return
	}
	for i := range w.Openings {
		o, id := &w.Openings[i], w.OpeningID(i)
		switch {
		case t.opening[id] == "":
		case o.Kind == plan.Door && o.Leaf.Fire == "":
			t.add(architect, "Request", "Normal", "door fire", id, fmt.Sprintf("%s: which fire class has the door?", id),
				fmt.Sprintf("The door stands in %s, of which %s is asked, and nothing says what is asked of the door.", w.ID, w.Require.Fire))
		case o.Kind == plan.Window && o.Leaf.Fire == "":
			t.add(architect, "Request", "Normal", "glazing fire", id, fmt.Sprintf("%s: which fire class has the glazing?", id),
				fmt.Sprintf("The glazing stands in %s, of which %s is asked.", w.ID, w.Require.Fire))
		case o.Kind == plan.Penetration && o.Service == "":
			t.add(services, "Request", "Normal", "seal", id, fmt.Sprintf("%s: what runs through, and how is it sealed?", id),
				fmt.Sprintf("The hole is in %s, of which %s is asked; nothing says which service runs through, so no seal can be chosen.", w.ID, w.Require.Fire))
		}
	}
}
