package app

import (
	"fmt"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/cut"
	"nogging/internal/cut/boards"
	cutsheet "nogging/internal/cut/sheet"
	"nogging/internal/layout"
)

// Cutting is how everything is cut, as the page shows it.
type Cutting struct {
	Zones []CutZone `json:"zones"`
}

// CutZone is the cutting plans of one zone.
type CutZone struct {
	ID       string        `json:"zone"`
	Profiles []cut.Profile `json:"profiles"`
	Boards   []CutBoard    `json:"boards"`
}

// CutBoard is the cutting plan of one board, each way to cut one once.
type CutBoard struct {
	Product string     `json:"product"`
	Name    string     `json:"name"`
	Bought  int        `json:"bought"`
	Plain   int        `json:"plain"` // boards, if every piece were cut from one of its own
	Area    float64    `json:"area"`  // m² bought
	Net     float64    `json:"net"`   // m² of pieces
	Bound   float64    `json:"bound"` // m² that every plan takes at least
	Stocks  []CutStock `json:"stocks"`
	Ways    []CutWay   `json:"ways"`
	Unmade  []string   `json:"unmade,omitempty"` // pieces that no board gives
}

// CutStock is how many boards of a size are bought.
type CutStock struct {
	Width  layout.Length `json:"width"`
	Length layout.Length `json:"length"`
	Count  int           `json:"count"`
}

// CutWay is one way to cut a board, and the boards cut so.
type CutWay struct {
	Number int           `json:"number"`
	Width  layout.Length `json:"width"`
	Length layout.Length `json:"length"`
	Offcut bool          `json:"offcut,omitempty"` // it is the rest of another board
	Areas  []CutArea     `json:"areas"`
	Cuts   []CutLine     `json:"cuts"`
	Sheets []CutSheet    `json:"sheets"`
}

// CutSheet is one board: its number and the pieces that come of it, in the order of
// their letters, as L1-07/A1-03.
type CutSheet struct {
	Number int      `json:"number"`
	From   int      `json:"from,omitempty"`   // the board whose offcut it is
	Offcut string   `json:"offcut,omitempty"` // and which: its mark, zone and board
	Pieces []string `json:"pieces"`
	Kept   []string `json:"kept,omitempty"` // marks of the offcuts that are kept, and where they go
}

// CutArea is a rectangle of a board, from its lower left corner: a piece by its
// letter, an offcut that is kept, or waste.
type CutArea struct {
	Name  string        `json:"name"` // a, b … for pieces; offcut; waste
	Notch bool          `json:"notch,omitempty"`
	X     layout.Length `json:"x"`
	Y     layout.Length `json:"y"`
	W     layout.Length `json:"w"`
	H     layout.Length `json:"h"`
}

// CutLine is one cut. Of, Off and Rest name what is cut, what comes off and, with the
// last cut of a part, what is left: a letter for a piece, a capital for a part.
type CutLine struct {
	Of    string           `json:"of"`
	Along bool             `json:"along,omitempty"` // the factory edges; measured from the left, otherwise from the foot
	At    layout.Length    `json:"at"`
	Off   string           `json:"off"`
	Rest  string           `json:"rest,omitempty"`
	Line  [4]layout.Length `json:"line"` // x, y of its ends
}

// CutZoneOf puts the cutting plans of a zone into that form.
func CutZoneOf(id string, profiles []cut.Profile, list []boards.Board, o boards.Options, cat *catalogue.Catalogue) CutZone {
	z := CutZone{ID: id, Profiles: append([]cut.Profile{}, profiles...), Boards: []CutBoard{}}
	for i := range list {
		b := &list[i]
		out := CutBoard{Product: b.Product, Name: b.Product, Bought: b.Bought(), Plain: b.Plain, Area: b.Area(), Net: b.Net(), Bound: b.Bound, Stocks: []CutStock{}, Ways: cutWays(b, &o)}
		if p, ok := cat.Board(b.Product); ok {
			out.Name = p.Name
		}
		for _, s := range b.Stocks {
			out.Stocks = append(out.Stocks, CutStock{s.Width, s.Length, s.Count})
		}
		for k := range b.Unmade {
			out.Unmade = append(out.Unmade, b.Unmade[k].Name())
		}
		z.Boards = append(z.Boards, out)
	}
	return z
}

// cutWays gathers the boards that are cut alike.
func cutWays(b *boards.Board, o *boards.Options) []CutWay {
	list := []CutWay{}
	index := map[string]int{}
	for i := range b.Sheets {
		s := &b.Sheets[i]
		w, pieces := cutWay(b, s, o)
		key := w.key()
		at, ok := index[key]
		if !ok {
			at = len(list)
			index[key] = at
			w.Number = at + 1
			list = append(list, w)
		}
		list[at].Sheets = append(list[at].Sheets, cutSheet(b, s, pieces))
	}
	return list
}

func cutSheet(b *boards.Board, s *boards.Sheet, pieces []string) CutSheet {
	out := CutSheet{Number: s.Number, From: s.From, Pieces: pieces}
	if s.Offcut != nil {
		out.Offcut = s.Offcut.Origin()
	}
	for _, f := range b.OffcutsOf(s.Number) {
		out.Kept = append(out.Kept, f.Goal())
	}
	return out
}

// key is the same for boards that are cut alike.
func (w *CutWay) key() string {
	return fmt.Sprint(w.Width, w.Length, w.Offcut, w.Areas, w.Cuts)
}

// cutWay names the parts of a board and lists its cuts and the marks of its pieces.
func cutWay(b *boards.Board, s *boards.Sheet, o *boards.Options) (CutWay, []string) {
	w := CutWay{Width: s.Width, Length: s.Length, Offcut: s.From > 0, Areas: []CutArea{}, Cuts: []CutLine{}}
	pieces, names, parts := []string{}, map[*cutsheet.Node]string{s.Root: "board"}, 0
	notched := map[*cutsheet.Node]bool{}
	s.Root.Walk(func(n *cutsheet.Node) {
		switch {
		case n.Piece >= 0:
			names[n] = letter(len(pieces))
			pieces = append(pieces, b.Pieces[n.Piece].Name())
		case n == s.Root:
		case len(n.Parts) > 0:
			names[n] = strings.ToUpper(letter(parts))
			parts++
		case o.Keeps(n):
			names[n] = "offcut"
		default:
			names[n] = "waste"
		}
		for _, x := range n.Notches {
			notched[x] = true
		}
		for _, x := range n.Parts {
			notched[x] = notched[n]
		}
		if len(n.Parts) == 0 {
			w.Areas = append(w.Areas, CutArea{names[n], notched[n], n.Min.X, n.Min.Y, n.Width(), n.Height()})
		}
	})
	for _, c := range cutsheet.Steps(s.Root) {
		line := CutLine{Of: names[c.Of], Along: c.Upright, At: c.At, Off: names[c.Off], Line: lineOf(&c)}
		if c.Rest != nil {
			line.Rest = names[c.Rest]
		}
		w.Cuts = append(w.Cuts, line)
	}
	return w, pieces
}

// lineOf returns the ends of a cut on its board.
func lineOf(c *cutsheet.Step) [4]layout.Length {
	if c.Upright {
		return [4]layout.Length{c.Off.Max.X, c.Of.Min.Y, c.Off.Max.X, c.Of.Max.Y}
	}
	return [4]layout.Length{c.Of.Min.X, c.Off.Max.Y, c.Of.Max.X, c.Off.Max.Y}
}

// letter returns a, b … z, aa, ab …
func letter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letter(i/26-1) + letter(i%26)
}
