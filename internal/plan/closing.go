package plan

// FacadePost is the kind of structure of which the posts and mullions of facades
// are.
const FacadePost = "post"

// ClosingPiece is the slim piece between a wall and a facade post that is narrower
// than the wall.
type ClosingPiece struct {
	Thickness Length `json:"thickness,omitempty" jsonschema:"finished thickness; what fits the post if left out"`
	Length    Length `json:"length,omitempty" jsonschema:"from the post to the wall; the practice's if left out"`
}

func (p *ClosingPiece) check(s *spot) {
	if p == nil {
		return
	}
	s.notNegative("thickness", p.Thickness)
	s.notNegative("length", p.Length)
}
