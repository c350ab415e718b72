package programme

import (
	"fmt"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// Record is the file of what is done on site.
type Record struct {
	Done []Entry `json:"done" jsonschema:"what is done, in any order"`

	places yamlfile.Places
}

// Entry is one stage done on walls, or work by others done in a zone.
type Entry struct {
	Wall    string   `json:"wall,omitempty" jsonschema:"id of the wall"`
	Walls   []string `json:"walls,omitempty" jsonschema:"ids of walls that were done together; the minutes are shared among them by their norms"`
	Stage   Stage    `json:"stage,omitempty" jsonschema:"stage that is complete on these walls; for inspections, before_closing and final"`
	Other   string   `json:"other,omitempty" jsonschema:"id of work by others, instead of walls and stage"`
	Zone    string   `json:"zone,omitempty" jsonschema:"zone in which others are done"`
	Date    Date     `json:"date" jsonschema:"day on which it was complete"`
	Gang    string   `json:"gang,omitempty" jsonschema:"id of the gang that did it"`
	Minutes float64  `json:"minutes,omitempty" jsonschema:"minutes of one person that it took: 2 people for an hour are 120"`
}

func (e *Entry) walls() []string {
	if e.Wall != "" {
		return append([]string{e.Wall}, e.Walls...)
	}
	return e.Walls
}

// ReadRecord reads the file of what is done. What cannot be read or makes no sense is a
// finding with its place, and the rest is returned.
func ReadRecord(file string, data []byte) (*Record, finding.List) {
	r := &Record{}
	places, found := yamlfile.Decode(file, data, r)
	r.places = places
	wrong := r.check()
	places.Fill(wrong)
	found = append(found, wrong...)
	found.Sort()
	return r, found
}

func (r *Record) check() finding.List {
	var found finding.List
	for i := range r.Done {
		e, path := &r.Done[i], fmt.Sprintf("done[%d]", i)
		add := func(key string, what, fix words.Text) { found.Add(wrongRecord(path+key, "", what, fix)) }
		switch {
		case e.Other != "":
			if e.Zone == "" {
				add("", "it does not say in which zone others are done", "write zone")
			}
		case len(e.walls()) == 0:
			add("", "it names no wall", "write wall and stage, such as {wall: L1-07, stage: tracks, date: 2027-01-12}")
		case e.Stage.rank() < 0:
			add(".stage", words.F("%q is no stage", e.Stage), yamlfile.Suggest(string(e.Stage), "stages", texts(Stages())))
		}
		if e.Minutes < 0 {
			add(".minutes", "work does not take less than no time", "write minutes of one person")
		}
	}
	return found
}

func wrongRecord(path, object string, what, fix words.Text) finding.Finding {
	return finding.Finding{Code: "record-wrong", Severity: finding.Error, Object: object, Path: path, What: what, Fix: fix}
}

// mark is what is recorded of a stage of a wall.
type mark struct {
	date    Date
	gang    string
	minutes float64 // as recorded; 0 for not
	entry   int
}

// markKey is a stage of a wall.
type markKey struct {
	wall  int
	stage Stage
}

// record takes over what is done: tasks of which all walls are done stand as they are,
// of others only the rest is left.
func (n *network) record() {
	if n.Done == nil {
		return
	}
	marks := n.marks()
	n.marked = marks
	for i := range n.Tasks {
		t := &n.Tasks[i]
		if t.group < 0 {
			continue
		}
		t.Left = 0
		for _, k := range n.members[t.group] {
			w := &n.works[k]
			m, ok := marks[markKey{k, t.Stage}]
			switch {
			case t.Kind == Work && len(w.stages[t.Stage]) == 0:
			case !ok:
				t.Left += w.minutes(t.Stage)
			default:
				t.Closed = append(t.Closed, w.wall.ID)
				if t.Begun == 0 || m.date < t.Begun {
					t.Begun = m.date
				}
				t.fixedTo = max(t.fixedTo, m.date)
			}
		}
		if len(t.Closed) == len(t.Walls) && len(t.Walls) > 0 {
			t.Done, t.fixedFrom = true, t.Begun
		}
	}
	n.othersDone()
	n.outOfOrder()
	n.Done.places.Fill(n.Findings)
}

// marks reads the record against the plan.
func (n *network) marks() map[markKey]mark {
	at := map[string]int{}
	for i := range n.works {
		at[n.works[i].wall.ID] = i
	}
	marks := map[markKey]mark{}
	for i := range n.Done.Done {
		e, path := &n.Done.Done[i], fmt.Sprintf("done[%d]", i)
		if e.Other != "" || e.Stage.rank() < 0 {
			continue
		}
		if n.Today != 0 && e.Date > n.Today {
			n.Findings.Add(wrongRecord(path+".date", "", words.F("it is done on %s, after today (%s); it is left out", e.Date, n.Today), "write the day on which it was done"))
			continue
		}
		norm := 0.0
		for _, id := range e.walls() {
			if k, ok := at[id]; ok {
				norm += n.works[k].minutes(e.Stage)
			}
		}
		for _, id := range e.walls() {
			k, ok := at[id]
			key := markKey{k, e.Stage}
			switch {
			case !ok:
				n.Findings.Add(wrongRecord(path, id, words.F("there is no wall %s to be done", id), yamlfile.Suggest(id, "walls", n.wallIDs())))
			case e.Stage != BeforeClose && e.Stage != Final && len(n.works[k].stages[e.Stage]) == 0:
				n.Findings.Add(wrongRecord(path+".stage", id, words.F("the wall has no work in the stage %s", e.Stage.Name()), words.F("its stages are: %s", joined(n.stagesOfWall(k)))))
			case marks[key].date != 0:
				n.Findings.Add(wrongRecord(path, id, words.F("%s of the wall is recorded twice; the first holds", e.Stage.Name()), "take one out"))
			default:
				m := mark{e.Date, e.Gang, 0, i}
				if norm > 0 {
					m.minutes = e.Minutes * n.works[k].minutes(e.Stage) / norm
				}
				marks[key] = m
			}
		}
	}
	return marks
}

func (n *network) wallIDs() []string {
	return ids(len(n.works), func(i int) string { return n.works[i].wall.ID })
}

func (n *network) stagesOfWall(k int) (list []string) {
	for _, s := range Stages() {
		if len(n.works[k].stages[s]) > 0 {
			list = append(list, string(s))
		}
	}
	return list
}

// othersDone takes over work by others that is done.
func (n *network) othersDone() {
	for i := range n.Done.Done {
		e := &n.Done.Done[i]
		if e.Other == "" {
			continue
		}
		found := false
		for k := range n.Tasks {
			t := &n.Tasks[k]
			if t.Kind == ByOther && t.other >= 0 && n.Site.Others[t.other].ID == e.Other && t.Zone == e.Zone {
				t.Done, t.fixedFrom, t.fixedTo, found = true, e.Date, e.Date, true
			}
		}
		if !found {
			n.Findings.Add(wrongRecord(fmt.Sprintf("done[%d]", i), e.Other, words.F("nothing %q by others takes place in zone %s", e.Other, e.Zone), "name work and zone as the gangs file does"))
		}
	}
}

// outOfOrder says which tasks are recorded as done although one before is not. That
// goes for inspections, too: what they were to show is behind boards.
func (n *network) outOfOrder() {
	for _, l := range n.links {
		from, to := &n.Tasks[l.from], &n.Tasks[l.to]
		if !to.Done && len(to.Closed) == 0 || from.Done || from.Kind == gate || from.group != to.group || from.group < 0 {
			continue
		}
		var open []string
		for _, w := range to.Closed {
			if slices.Contains(from.Walls, w) && !slices.Contains(from.Closed, w) {
				open = append(open, w)
			}
		}
		if len(open) == 0 {
			continue
		}
		f := finding.Finding{Code: "done-before", Severity: finding.Warning, Object: to.ID,
			What: words.F("%s is recorded as done, and %s before it is not: %s", to.Name, from.Name, some(open)), Fix: "record it, or look again on site"}
		if from.Kind == Hold {
			f.Fix = "record the inspection, or open the face: what it has to show is behind boards"
		}
		n.Findings.Add(f)
	}
}
