package dxf

import "math"

// Picture is the drawing itself, to be shown beneath what was recognised in it: in
// millimetres of the plan's coordinates, rounded to a tenth, by layers.
type Picture struct {
	Layers []Sheet `json:"layers"`
	Words  []Text  `json:"words"`
	Cut    int     `json:"cut"` // lines that are left out of the picture
}

// Sheet is what lies on one layer.
type Sheet struct {
	Layer  string      `json:"layer"`
	Lines  []float64   `json:"lines"`  // four numbers a line: from x, y to x, y
	Filled [][]float64 `json:"filled"` // outlines that are filled: x, y in turn
}

// Text is a text of the drawing.
type Text struct {
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Text string  `json:"text"`
}

// mostPictured bounds the lines and words of a picture.
const mostPictured = 150_000

// picture draws the drawing as it lies beneath the plan.
func (g *recogniser) picture() Picture {
	p := painter{at: map[string]int{}, out: Picture{Layers: []Sheet{}, Words: []Text{}}}
	for _, s := range g.segments {
		p.line(s.layer, s.a, s.b)
	}
	for _, c := range g.curves {
		p.lines(c.layer, c.points())
	}
	for _, r := range g.rings {
		switch {
		case r.filled:
			p.fill(r.layer, r.points)
		case r.round:
			p.lines(r.layer, append(r.points, r.points[0]))
		}
	}
	for _, l := range g.labels {
		if p.room() {
			p.out.Words = append(p.out.Words, Text{tenth(l.at.x), tenth(l.at.y), l.text})
		}
	}
	return p.out
}

type painter struct {
	out   Picture
	at    map[string]int // of a layer in the picture
	drawn int
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// room reports whether one more line has room.
func (p *painter) room() bool {
	if p.drawn >= mostPictured {
		p.out.Cut++
		return false
	}
	p.drawn++
	return true
}

func (p *painter) sheet(layer string) *Sheet {
	i, ok := p.at[layer]
	if !ok {
		i = len(p.out.Layers)
		p.at[layer] = i
		p.out.Layers = append(p.out.Layers, Sheet{Layer: layer, Lines: []float64{}, Filled: [][]float64{}})
	}
	return &p.out.Layers[i]
}

func (p *painter) line(layer string, a, b vec) {
	if p.room() {
		s := p.sheet(layer)
		s.Lines = append(s.Lines, tenth(a.x), tenth(a.y), tenth(b.x), tenth(b.y))
	}
}

func (p *painter) lines(layer string, points []vec) {
	for i := range points[1:] {
		p.line(layer, points[i], points[i+1])
	}
}

func (p *painter) fill(layer string, points []vec) {
	if !p.room() {
		return
	}
	var flat []float64
	for _, v := range points {
		flat = append(flat, tenth(v.x), tenth(v.y))
	}
	s := p.sheet(layer)
	s.Filled = append(s.Filled, flat)
}
