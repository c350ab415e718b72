package sheet

// Step is one cut of a sheet, for a person with a rule and a knife.
type Step struct {
	Of      *Node  // what is cut
	Upright bool   // along the sheet's factory edges, otherwise across
	At      Length // from the left or lower edge of what is still left of it
	Off     *Node  // what then comes off
	Rest    *Node  // what is left once this was the last cut of it; nil before
}

// Steps lists the cuts of a sheet in order: a part is cut off, then the next, from
// the left or from the foot; then each part is cut. What lies in a notch is cut once
// its piece has come off.
func Steps(root *Node) []Step {
	var list []Step
	root.steps(&list)
	return list
}

func (n *Node) steps(list *[]Step) {
	last := len(n.Parts) - 1
	for i, p := range n.Parts {
		if i == last && i > 0 && p.end(n) {
			break
		}
		s := Step{Of: n, Upright: n.Upright, Off: p, At: p.Height()}
		if n.Upright {
			s.At = p.Width()
		}
		if i+2 == len(n.Parts) && n.Parts[last].end(n) {
			s.Rest = n.Parts[last]
		}
		*list = append(*list, s)
	}
	for _, p := range n.Parts {
		p.steps(list)
	}
	for _, p := range n.Notches {
		p.steps(list)
	}
}

// end reports whether a part reaches the far edge of what it is cut from.
func (n *Node) end(of *Node) bool {
	if of.Upright {
		return n.Max.X == of.Max.X
	}
	return n.Max.Y == of.Max.Y
}
