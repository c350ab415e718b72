package sheet

import "slices"

// trimFirst saves cuts: where all parts of a node are trimmed by the same amount, that
// is cut off the node first. It leaves a tree as it is where that would take a stage
// too many.
func (in *instance) trimFirst(n *Node) *Node {
	out := trimmedFirst(n)
	if out == n || stagesOf(out) > in.stages || len(in.directions) == 1 {
		return n
	}
	return out
}

// trimmedFirst trims a node and all its parts.
func trimmedFirst(n *Node) *Node {
	if len(n.Parts) == 0 {
		return n
	}
	out := *n
	out.Parts = nil
	changed := false
	for _, p := range n.Parts {
		q := trimmedFirst(p)
		changed = changed || q != p
		out.Parts = append(out.Parts, q)
	}
	if t := out.hoist(); t != nil {
		return t
	}
	if !changed {
		return n
	}
	return &out
}

// hoist returns a node with the rest of its parts cut off first, or nil where they
// differ.
func (n *Node) hoist() *Node {
	var like *Node // a part with its rest
	trimmed := 0
	for _, p := range n.Parts {
		switch {
		case p.Piece < 0 && len(p.Parts) == 0: // waste
		case len(p.Parts) == 2 && p.Upright != n.Upright && p.Parts[1].rest() && (like == nil || p.sameRest(like)):
			like = p
			trimmed++
		default:
			return nil
		}
	}
	if trimmed < 2 {
		return nil
	}
	inner := &Node{Rect: n.Rect, Upright: n.Upright, Piece: -1}
	strip := &Node{Rect: n.Rect, Piece: -1}
	kept, rest := like.Parts[0], like.Parts[1]
	for _, p := range n.Parts {
		if len(p.Parts) == 0 {
			q := &Node{Rect: p.Rect, Piece: -1}
			q.stretch(kept, like.Upright)
			inner.Parts = append(inner.Parts, q)
			continue
		}
		inner.Parts = append(inner.Parts, p.Parts[0])
	}
	inner.stretch(kept, like.Upright)
	strip.stretch(rest, like.Upright)
	return &Node{Rect: n.Rect, Upright: like.Upright, Piece: -1, Parts: []*Node{inner, strip}}
}

func (n *Node) rest() bool { return n.Piece < 0 && len(n.Parts) == 0 }

// sameRest reports whether two nodes are trimmed at the same place.
func (n *Node) sameRest(o *Node) bool {
	if n.Upright {
		return n.Parts[0].Max.X == o.Parts[0].Max.X
	}
	return n.Parts[0].Max.Y == o.Parts[0].Max.Y
}

// stretch sets a node's extent to that of another, along or across the sheet.
func (n *Node) stretch(to *Node, across bool) {
	if across {
		n.Min.X, n.Max.X = to.Min.X, to.Max.X
		return
	}
	n.Min.Y, n.Max.Y = to.Min.Y, to.Max.Y
}

// stagesOf counts the directions of cuts one after another.
func stagesOf(n *Node) int {
	used := slices.DeleteFunc(slices.Clone(n.Parts), (*Node).rest)
	if len(n.Parts) == 0 || len(used) == 1 && used[0].Piece >= 0 {
		return 0
	}
	most := 0
	for _, p := range used {
		s := stagesOf(p)
		if len(p.Parts) > 0 && p.Upright == n.Upright {
			s--
		}
		most = max(most, s)
	}
	return most + 1
}
