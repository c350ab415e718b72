package variation

import (
	"encoding/json"
	"fmt"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/words"
)

// part is one part of a wall. Parts of the same shape can stand for one another.
type part struct{ mark, shape string }

// parts lists the parts of every laid-out wall that are cut to size.
func (s *Side) parts() map[string][]part {
	all := map[string][]part{}
	for _, w := range s.Layout.Walls {
		var list []part
		for i := range w.Members {
			m := &w.Members[i]
			list = append(list, part{m.Mark(), fmt.Sprintf("%s %s mm, %d slits", m.Product, m.Cut, m.Slits)})
		}
		for _, f := range w.Faces {
			for k := range f.Layers {
				for i := range f.Layers[k].Pieces {
					p := &f.Layers[k].Pieces[i]
					list = append(list, part{layout.PieceMark(f.Face, k, p), pieceShape(p)})
				}
			}
		}
		for i := range w.Caps {
			p := &w.Caps[i]
			list = append(list, part{fmt.Sprintf("%s %d", p.Use, p.Number), pieceShape(p)})
		}
		for i := range w.Gussets {
			g := &w.Gussets[i]
			list = append(list, part{fmt.Sprintf("gusset %d", g.Number), fmt.Sprintf("%s %s x %s mm", g.Board, g.Width, g.Height)})
		}
		all[w.ID] = list
	}
	return all
}

// pieceShape writes the shape of a piece of board wherever it stands.
func pieceShape(p *layout.Piece) string {
	type shape struct {
		Outline     geom.Polygon
		Holes       []geom.Polygon
		Left, Right layout.EdgeKind
	}
	at := corner(p.Outline)
	s := shape{Outline: moved(p.Outline, at), Left: p.Left, Right: p.Right}
	for _, h := range p.Holes {
		s.Holes = append(s.Holes, moved(h, at))
	}
	text, _ := json.Marshal(s) // numbers and texts only
	return p.Board + " " + string(text)
}

// corner returns the lower left corner of the rectangle about a polygon.
func corner(p geom.Polygon) geom.Point {
	if len(p) == 0 {
		return geom.Point{}
	}
	at := p[0]
	for _, c := range p[1:] {
		at.X, at.Y = min(at.X, c.X), min(at.Y, c.Y)
	}
	return at
}

func moved(p geom.Polygon, at geom.Point) geom.Polygon {
	out := make(geom.Polygon, len(p))
	for i, c := range p {
		out[i] = geom.Pt(c.X-at.X, c.Y-at.Y)
	}
	return out
}

// differ pairs parts of the same shape: it counts those that are kept, and lists
// the marks of those gone and those to be made.
func differ(before, after []part) (kept int, gone, made []string) {
	left := map[string]int{}
	for _, p := range after {
		left[p.shape]++
	}
	for _, p := range before {
		if left[p.shape] > 0 {
			left[p.shape]--
			kept++
			continue
		}
		gone = append(gone, p.mark)
	}
	// Of parts of one shape, the last are the ones to be made.
	for i := len(after) - 1; i >= 0; i-- {
		if p := after[i]; left[p.shape] > 0 {
			left[p.shape]--
			made = append([]string{p.mark}, made...)
		}
	}
	return kept, gone, made
}

// CutPart is a part that was cut already, where the new plan has no more use for it
// where it was, or has it under another mark.
type CutPart struct {
	Wall string `json:"wall"`
	Part string `json:"part"`
	Goes string `json:"goes,omitempty"` // to this part of the new plan, as wall/mark; nowhere if empty
}

// cut says what becomes of the parts that were cut already: each goes to a part of
// its shape, on its own wall if it can, else on any, that no other takes.
func (c *comparer) cut() {
	if c.done == nil {
		return
	}
	before, after := c.old.parts(), c.new.parts()
	now := map[string]string{}
	for _, p := range c.pairs {
		if p.old != nil && p.new != nil {
			now[p.old.ID] = p.new.ID
		}
	}
	free := newPool(c.new.Layout, after)
	lost := map[string][]string{}
	type open struct{ wall, mark, shape string }
	var later []open
	place := func(wall string, p part, to string, ok bool) {
		switch {
		case !ok:
			c.report.Cut = append(c.report.Cut, CutPart{Wall: wall, Part: p.mark})
			lost[wall] = append(lost[wall], p.mark)
		case to != wall+"/"+p.mark:
			c.report.Cut = append(c.report.Cut, CutPart{Wall: wall, Part: p.mark, Goes: to})
		}
	}
	for i, x := range c.done.Cut {
		list, unknown := x.of(before[x.Wall])
		if len(list) == 0 || len(unknown) > 0 {
			c.report.Findings.Add(finding.Finding{Code: "cut-unknown", Severity: finding.Warning, Object: x.Wall, Path: fmt.Sprintf("cut[%d]", i),
				What: words.F("the old plan has no such parts: %s", strings.Join(unknown, ", ")), Fix: "write a wall of the old plan, and marks as its sheets have them"})
		}
		for _, p := range list {
			to, ok := "", false
			if now[x.Wall] != "" {
				to, ok = free.take(p, now[x.Wall])
			}
			if !ok {
				later = append(later, open{x.Wall, p.mark, p.shape})
				continue
			}
			place(x.Wall, p, to, true)
		}
	}
	for _, o := range later {
		to, ok := free.take(part{o.mark, o.shape}, "")
		place(o.wall, part{o.mark, o.shape}, to, ok)
	}
	for _, x := range c.done.Cut {
		if marks := lost[x.Wall]; len(marks) > 0 {
			delete(lost, x.Wall)
			c.report.Findings.Add(finding.Finding{Code: "cut-lost", Severity: finding.Warning, Object: x.Wall,
				What: words.F("%d parts cut already fit nowhere in the new plan: %s", len(marks), strings.Join(marks, ", ")), Fix: "keep them as offcuts, and agree who bears them"})
		}
	}
}

// pool is the parts of a plan that nothing was put to yet.
type pool struct {
	walls []string
	parts map[string][]part
	used  map[string]bool // wall/mark
}

func newPool(l *layout.Project, parts map[string][]part) *pool {
	p := &pool{parts: parts, used: map[string]bool{}}
	for _, w := range l.Walls {
		p.walls = append(p.walls, w.ID)
	}
	return p
}

// take takes a part of the same shape on a wall, the one of the same mark first; on
// any wall where none is named.
func (f *pool) take(x part, wall string) (string, bool) {
	walls := f.walls
	if wall != "" {
		walls = []string{wall}
	}
	for _, sameMark := range []bool{true, false} {
		for _, w := range walls {
			for _, p := range f.parts[w] {
				key := w + "/" + p.mark
				if p.shape == x.shape && !f.used[key] && (!sameMark || p.mark == x.mark) {
					f.used[key] = true
					return key, true
				}
			}
		}
	}
	return "", false
}
