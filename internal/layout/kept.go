package layout

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// Kept lays out one version of a plan after another, and lays out again only the
// walls on which something bears that has changed. Of those it gives new Walls;
// the others are the very same as before. The zero Kept has laid out nothing. A copy
// goes its own way from there. A Kept and its copies are for one goroutine at a time;
// what they gave stays as it is.
type Kept struct {
	cat    *catalogue.Catalogue
	pr     *catalogue.Practice
	walls  map[string]*keptWall
	levels *stamps[plan.Level] // shared between copies
	specs  *stamps[buildup.BuildUp]
}

// keptWall is a laid-out wall with all that it was laid out from.
type keptWall struct {
	wall   plan.Wall
	inputs string // everything else, see inputsOf
	way    Way    // that was asked for
	laid   *Wall
}

// stamps numbers the different values of a type that come up, by id.
type stamps[T any] struct {
	byID map[string][]stamped[T]
	last uint64
}

type stamped[T any] struct {
	value T
	stamp uint64
}

// of returns the number of a value: the same for equal ones.
func (s *stamps[T]) of(id string, v *T) uint64 {
	for i := range s.byID[id] {
		if x := &s.byID[id][i]; reflect.DeepEqual(&x.value, v) {
			return x.stamp
		}
	}
	if s.byID == nil {
		s.byID = map[string][]stamped[T]{}
	}
	s.last++
	s.byID[id] = append(s.byID[id], stamped[T]{*v, s.last})
	return s.last
}

// Of lays out the plan, walls that ways name as asked there. It gives what Prepare and
// Layout give, byte for byte.
func (k *Kept) Of(p *plan.Plan, cat *catalogue.Catalogue, pr *catalogue.Practice, ways map[string]Way) *Project {
	if k.cat != cat || !reflect.DeepEqual(k.pr, pr) {
		*k = Kept{cat: cat, pr: pr, levels: &stamps[plan.Level]{}, specs: &stamps[buildup.BuildUp]{}}
	}
	out := &Project{}
	bodies := collect(p, cat, pr, &out.Findings)
	settle(p, bodies, pr, out)
	out.Walls = k.lay(bodies, ways)
	findOverlaps(p, out)
	return out
}

// lay returns the walls of the bodies, old or new.
func (k *Kept) lay(bodies []*body, ways map[string]Way) []*Wall {
	laid := make([]*Wall, len(bodies))
	next := make(map[string]*keptWall, len(bodies))
	specs, levels := map[*buildup.BuildUp]uint64{}, map[*plan.Level]uint64{}
	for _, b := range bodies {
		if _, known := specs[b.spec]; !known {
			specs[b.spec] = k.specs.of(b.spec.Spec.ID, b.spec)
		}
		if _, known := levels[b.level]; !known {
			levels[b.level] = k.levels.of(b.level.ID, b.level)
		}
	}
	var anew []int
	for i, b := range bodies {
		inputs := string(inputsOf(b, specs, levels[b.level]))
		old, way := k.walls[b.wall.ID], ways[b.wall.ID]
		if old == nil || old.inputs != inputs || old.way != way || !reflect.DeepEqual(&old.wall, b.drawn) {
			old = &keptWall{wall: *b.drawn, inputs: inputs, way: way}
			anew = append(anew, i)
		}
		laid[i] = old.laid
		next[b.wall.ID] = old
	}
	var at atomic.Int64
	var group sync.WaitGroup
	var fault atomic.Value // of one wall; it comes to the caller, who may have other plans
	for range min(runtime.GOMAXPROCS(0), len(anew)) {
		group.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					fault.Store(fmt.Sprintf("%v\n%s", r, debug.Stack()))
				}
			}()
			var room bench
			for n := int(at.Add(1)) - 1; n < len(anew); n = int(at.Add(1)) - 1 {
				laid[anew[n]] = layWall(bodies[anew[n]], k.cat, k.pr, ways[bodies[anew[n]].wall.ID], &room).forget()
			}
		})
	}
	group.Wait()
	if f := fault.Load(); f != nil {
		panic(f)
	}
	for _, i := range anew {
		next[bodies[i].wall.ID].laid = laid[i]
	}
	k.walls = next
	return laid
}

// forget drops what a finished wall holds of the bodies that it was laid out from,
// and with them of the whole plan as it was.
func (w *Wall) forget() *Wall {
	for i := range w.FrameLines {
		w.FrameLines[i].cuts = [2]cut{}
	}
	return w
}

// inputsOf writes all that a wall's layout depends on beside the wall's own entry
// in the plan: its level, its build-up, the rooms at its faces, and what it meets
// with how. Of a wall that it meets, only where that stands and what it is made of
// counts.
func inputsOf(b *body, specs map[*buildup.BuildUp]uint64, level uint64) []byte {
	w := inputWriter{specs: specs}
	w.number(level, specs[b.spec])
	w.text(b.wet[plan.FaceA], b.wet[plan.FaceB])
	for i := range b.ends {
		ep := &b.ends[i]
		w.text(string(ep.kind))
		w.flag(ep.through, ep.cuts, ep.closing != nil, ep.partner != nil)
		if ep.partner != nil {
			w.flag(ep.partner.end == 1, b.ordinal > ep.partner.body.ordinal, b == ep.partner.body)
			w.body(ep.partner.body)
		}
		w.number(uint64(len(ep.hosts)))
		for _, h := range ep.hosts {
			w.body(h)
		}
		w.solid(ep.solid)
	}
	w.number(uint64(len(b.tees)))
	for _, t := range b.tees {
		w.number(uint64(t.end+1), uint64(t.u))
		w.flag(t.left, t.cut, t.past)
		w.body(t.other)
	}
	w.number(uint64(len(b.breaks)))
	for _, br := range b.breaks {
		w.number(uint64(br.u))
		w.flag(br.cut, br.other != nil)
		if br.other != nil {
			w.body(br.other)
		}
		w.solid(br.solid)
	}
	return w.out
}

// inputWriter writes values such that different ones give different bytes.
type inputWriter struct {
	out   []byte
	specs map[*buildup.BuildUp]uint64
}

func (w *inputWriter) number(list ...uint64) {
	for _, n := range list {
		w.out = binary.AppendUvarint(w.out, n)
	}
}

func (w *inputWriter) text(list ...string) {
	for _, s := range list {
		w.number(uint64(len(s)))
		w.out = append(w.out, s...)
	}
}

func (w *inputWriter) flag(list ...bool) {
	for _, f := range list {
		if f {
			w.out = append(w.out, 1)
		} else {
			w.out = append(w.out, 0)
		}
	}
}

func (w *inputWriter) point(p geom.Point) { w.number(uint64(p.X), uint64(p.Y)) }

func (w *inputWriter) body(b *body) {
	w.text(b.wall.ID, string(b.wall.Justify))
	w.number(w.specs[b.spec])
	w.point(b.axis.A)
	w.point(b.axis.B)
	if w.flag(b.arc != nil); b.arc != nil {
		w.point(b.arc.Centre)
		w.number(uint64(b.arc.Radius), math.Float64bits(b.arc.From), math.Float64bits(b.arc.Sweep))
	}
}

func (w *inputWriter) solid(x *solid) {
	if w.flag(x != nil); x == nil {
		return
	}
	w.text(x.id, x.material)
	w.flag(x.post)
	w.number(uint64(len(x.outline)))
	for _, p := range x.outline {
		w.point(p)
	}
}
