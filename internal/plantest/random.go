package plantest

import (
	"fmt"
	"math"

	"pgregory.net/rapid"

	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Random draws a storey of rooms side by side between long walls, so that
// corners, tees, crosses, free ends and structure all come up, turned by any
// angle, with openings, heads and build-ups of every kind.
func Random(t *rapid.T) *plan.Plan {
	p := &plan.Plan{
		Levels: []plan.Level{{
			ID: "L0", ClearHeight: lengthIn(t, "clear height", 2000, 7000),
			Deflection: lengthIn(t, "deflection", 0, 25),
		}},
		BuildUps: randomBuildUps(t),
	}
	turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
	if rapid.Bool().Draw(t, "square") {
		turn = 0
	}
	lean := rapid.SampledFrom([]float64{0, 0, 0.2, -0.4, 1.2}).Draw(t, "lean")
	at := func(x, y quantity.Length) plan.Pt {
		fx, fy := float64(x)+lean*float64(y), float64(y)
		c, s := math.Cos(turn), math.Sin(turn)
		return plan.Pt{X: quantity.Length(fx*c - fy*s), Y: quantity.Length(fx*s + fy*c)}
	}
	depth := lengthIn(t, "depth", 1500, 6000)
	xs := []quantity.Length{0}
	for range rapid.IntRange(1, 4).Draw(t, "rooms") {
		xs = append(xs, xs[len(xs)-1]+lengthIn(t, "room width", 700, 9000))
	}
	if rapid.IntRange(0, 7).Draw(t, "long") == 0 {
		xs[len(xs)-1] += 36 * quantity.Metre
	}
	end := xs[len(xs)-1]
	justify := rapid.SampledFrom([]plan.Justify{"", "", plan.Centre, plan.OnFaceA, plan.OnFaceB}).Draw(t, "justify") // as one office draws
	addCurved := func(a, b plan.Pt, via *plan.Pt) {
		w := plan.Wall{ID: fmt.Sprintf("L0-%02d", len(p.Walls)+1), Level: "L0", Line: []plan.Pt{a, b}, Via: via}
		if rapid.Bool().Draw(t, "reversed") {
			w.Line[0], w.Line[1] = b, a
		}
		w.Justify = justify
		if w.Line[0] == b && justify == plan.OnFaceA {
			w.Justify = plan.OnFaceB // it stands on the same side
		} else if w.Line[0] == b && justify == plan.OnFaceB {
			w.Justify = plan.OnFaceA
		}
		finishWall(t, p, &w)
		p.Walls = append(p.Walls, w)
	}
	add := func(a, b plan.Pt) { addCurved(a, b, nil) }
	past := lengthIn(t, "drawn past", -40, 40) // as drawings run beyond, or stop short of, what walls meet
	add(at(-past, 0), at(end+past, 0))
	if rapid.Bool().Draw(t, "one long wall opposite") {
		add(at(0, depth), at(end, depth))
	} else {
		for i := 1; i < len(xs); i++ {
			add(at(xs[i-1], depth), at(xs[i], depth))
		}
	}
	for _, x := range xs {
		add(at(x, -past), at(x, depth+past))
	}
	if rapid.Bool().Draw(t, "wall beyond") {
		add(at(xs[1], 0), at(xs[1], -depth))
	}
	if rapid.Bool().Draw(t, "curved wall beyond") {
		bulge := quantity.Length(rapid.Float64Range(0.1, 0.6).Draw(t, "bulge") * float64(depth))
		if rapid.Bool().Draw(t, "to the left") {
			bulge = -bulge
		}
		via := at(xs[0]+bulge, -depth/2)
		addCurved(at(xs[0], 0), at(xs[0], -depth), &via)
	}
	if rapid.Bool().Draw(t, "column") {
		c := plan.Structure{ID: "C-01", Level: "L0", Material: "concrete"}
		half := rapid.SampledFrom([]quantity.Length{150, 30}).Draw(t, "half a column")
		if half == 30 {
			c.Kind = plan.FacadePost
		}
		x := lengthIn(t, "column x", 0, 3000)
		for _, d := range [][2]quantity.Length{{-half, -half}, {half, -half}, {half, half}, {-half, half}} {
			c.Outline = append(c.Outline, at(x+d[0]*mm, d[1]*mm))
		}
		p.Structure = append(p.Structure, c)
	}
	p.Levels[0].FloorDepth = lengthIn(t, "floor depth", 0, 200)
	p.Levels[0].Floor = rapid.SampledFrom([]string{"", plan.Screed, plan.RaisedFloor, plan.Timber}).Draw(t, "floor")
	if rapid.Bool().Draw(t, "deck") {
		p.Levels[0].Soffit = plan.MetalDeck
		p.Levels[0].Deck = &plan.Deck{
			Pitch: lengthIn(t, "pitch", 100, 400), Depth: lengthIn(t, "flute depth", 20, 150), Flute: lengthIn(t, "flute", 30, 90),
			Direction: float64(rapid.IntRange(0, 180).Draw(t, "flutes")),
		}
	}
	if rapid.Bool().Draw(t, "movement joint") {
		x := lengthIn(t, "movement joint x", 0, 9000)
		p.Levels[0].MovementJoints = []plan.MovementJoint{{Line: []plan.Pt{at(x, -7000*mm), at(x, 7000*mm)}, Width: lengthIn(t, "joint width", 0, 50)}}
	}
	for range rapid.IntRange(0, 3).Draw(t, "junctions") {
		a, b := rapid.SampledFrom(p.Walls).Draw(t, "wall").ID, rapid.SampledFrom(p.Walls).Draw(t, "other").ID
		p.Junctions = append(p.Junctions, plan.Junction{
			Walls: []string{a, b}, Through: rapid.SampledFrom([]string{"", a}).Draw(t, "through"),
			Boards: rapid.SampledFrom([]string{"", plan.BoardsCut, plan.BoardsRun}).Draw(t, "boards"),
		})
	}
	return p
}

func lengthIn(t *rapid.T, label string, low, high int) quantity.Length {
	return quantity.Length(rapid.IntRange(low, high).Draw(t, label)) * mm
}

func randomBuildUps(t *rapid.T) []plan.BuildUp {
	var list []plan.BuildUp
	for i, kind := range plan.FrameKinds() {
		b := plan.BuildUp{ID: fmt.Sprintf("W%d", i+1), Frame: plan.FrameSpec{
			Kind:    kind,
			Stud:    rapid.SampledFrom([]string{"CW50", "CW75", "CW100"}).Draw(t, "stud"),
			Spacing: rapid.SampledFrom([]quantity.Length{0, 600 * mm, 400 * mm, 300 * mm}).Draw(t, "spacing"),
		}}
		if kind.Twin() {
			b.Frame.Gap = rapid.SampledFrom([]quantity.Length{10 * mm, 100 * mm}).Draw(t, "gap")
		}
		for range rapid.IntRange(1, 3).Draw(t, "layers A") {
			b.FaceA = append(b.FaceA, rapid.SampledFrom([]string{"GKB-12.5", "GKF-15", "GKB-9.5"}).Draw(t, "board"))
		}
		if !kind.OneSided() && rapid.Bool().Draw(t, "faces differ") {
			b.FaceB = []string{"GKB-12.5"}
		}
		b.Insulation = randomFill(t, kind)
		b.Seal = rapid.SampledFrom([]string{"", "tape", "sealant"}).Draw(t, "seal")
		list = append(list, b)
	}
	return list
}

// randomFill fills one part of the cavity or several, some with two layers.
func randomFill(t *rapid.T, kind plan.FrameKind) []plan.Insulation {
	list := []plan.Insulation{{Product: "MW-40"}}
	if kind.Twin() && rapid.Bool().Draw(t, "fill both frames") {
		list = append(list, plan.Insulation{Product: "MW-40"})
	}
	if rapid.Bool().Draw(t, "two layers of fill") {
		list = append(list, plan.Insulation{Product: "MW-40", Place: plan.InFrameA})
	}
	if kind == plan.TwinBraced && rapid.Bool().Draw(t, "fill the gap") {
		list = append(list, plan.Insulation{Product: "MW-60", Place: plan.InGap})
	}
	return list
}

// randomPipes runs a pipe or two along a wall, level or to a fall.
func randomPipes(t *rapid.T, w *plan.Wall, length quantity.Length) {
	for range rapid.IntRange(0, 2).Draw(t, "pipes") {
		z := lengthIn(t, "height of a pipe", 100, 2000)
		w.Pipes = append(w.Pipes, plan.Pipe{Diameter: lengthIn(t, "diameter", 20, 160), Path: []plan.Pt{
			{X: 0, Y: z}, {X: length, Y: z + rapid.SampledFrom([]quantity.Length{0, 300 * mm}).Draw(t, "fall")},
		}})
	}
}

func finishWall(t *rapid.T, p *plan.Plan, w *plan.Wall) {
	w.BuildUp = rapid.SampledFrom(p.BuildUps).Draw(t, "build-up").ID
	w.Stands = rapid.SampledFrom([]string{"", "", plan.OnSlab}).Draw(t, "stands")
	w.Require.Wet = rapid.SampledFrom([]string{"", "", "W1-I"}).Draw(t, "wet")
	w.Require.Fire = rapid.SampledFrom([]string{"", "", "EI 60"}).Draw(t, "fire")
	w.Require.Sound = rapid.SampledFrom([]string{"", "", "Rw 42", "Rw 53"}).Draw(t, "sound")
	w.Head = rapid.SampledFrom([]string{"", "", "", plan.HeadRigid, plan.HeadDeflection, plan.HeadFree}).Draw(t, "head")
	length := w.Length()
	switch rapid.IntRange(0, 5).Draw(t, "top") {
	case 0:
		w.Heights = []plan.HeightAt{{At: 0, Height: lengthIn(t, "low", 1800, 4000)}, {At: length, Height: lengthIn(t, "high", 1800, 4000)}}
	case 1:
		step := length / 2
		w.Heights = []plan.HeightAt{{At: 0, Height: 2500 * mm}, {At: step, Height: 2500 * mm}, {At: step, Height: 3100 * mm}, {At: length, Height: 3100 * mm}}
	case 2:
		w.Height = lengthIn(t, "height", 1000, 2500)
	}
	if rapid.IntRange(0, 5).Draw(t, "on an upstand") == 0 {
		w.Base = lengthIn(t, "base", 1, 500)
	}
	randomPipes(t, w, length)
	at := lengthIn(t, "before first opening", 200, 2000)
	for range rapid.IntRange(0, 3).Draw(t, "openings") {
		o := plan.Opening{
			Kind: rapid.SampledFrom(plan.OpeningKinds()).Draw(t, "kind"), At: at,
			Width: lengthIn(t, "opening width", 100, 2500), Height: lengthIn(t, "opening height", 100, 2300),
			LeafMass: float64(rapid.IntRange(0, 60).Draw(t, "leaf")),
		}
		if o.Kind != plan.Door && o.Kind != plan.Bare {
			o.Sill = lengthIn(t, "sill", 0, 1200)
		}
		if o.Kind == plan.Door {
			o.Pocket = rapid.SampledFrom([]string{"", "", "", plan.AtStart, plan.AtEnd}).Draw(t, "pocket")
			if o.Pocket == "" {
				o.Leaf = plan.Leaf{
					Count: rapid.IntRange(0, 2).Draw(t, "leaves"), Hinge: rapid.SampledFrom([]string{"", plan.AtStart, plan.AtEnd}).Draw(t, "hinge"),
					Opens: rapid.SampledFrom([]plan.Face{"", plan.FaceA, plan.FaceB}).Draw(t, "opens"), Width: o.Width / 2, Fire: rapid.SampledFrom([]string{"", "EI2 30-C"}).Draw(t, "door fire"),
				}
			}
			o.HungMass = float64(rapid.SampledFrom([]int{0, 0, 40}).Draw(t, "hung"))
		}
		if o.Kind == plan.Penetration {
			o.Service = rapid.SampledFrom([]string{"", plan.Metal, plan.PlasticPipe, plan.Duct, plan.Cable}).Draw(t, "service")
		}
		at += o.Width + lengthIn(t, "between openings", 150, 2500)
		if o.At+o.Width+200*mm >= length {
			continue
		}
		w.Openings = append(w.Openings, o)
		if rapid.IntRange(0, 4).Draw(t, "one above") == 0 {
			above := plan.Opening{
				Kind: rapid.SampledFrom([]plan.OpeningKind{plan.Window, plan.Hatch, plan.Penetration}).Draw(t, "kind above"),
				At:   o.At + lengthIn(t, "aside", -150, 300), Sill: o.Sill + o.Height + lengthIn(t, "between sill and head", 50, 800),
				Width: lengthIn(t, "width above", 100, 1500), Height: lengthIn(t, "height above", 100, 1200),
			}
			if above.At > 0 && above.At+above.Width+200*mm < length {
				w.Openings = append(w.Openings, above)
			}
		}
	}
	if p.BuildUpByID(w.BuildUp) != nil {
		addServices(t, w, p.BuildUpByID(w.BuildUp).Frame.Kind.OneSided())
	}
}
