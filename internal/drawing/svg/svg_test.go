package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"nogging/internal/drawing"
	"nogging/internal/drawing/svg"
)

// scene holds one of everything.
func scene() *drawing.Scene {
	s := drawing.NewScene("L1-07", "Wall <L1-07> & \"so\"", drawing.A3)
	clip := drawing.NewRect(0, 0, 50, 50)
	s.Layer(drawing.Frame).Add(&drawing.Group{ID: "L1-07.S01", Title: "stud S01: CW75 & more", Clip: &clip,
		Data: []drawing.Datum{{Name: "part", Value: "S01"}},
		Items: []drawing.Item{
			drawing.Box(drawing.NewRect(10, 10, 2.5, 130.004), drawing.Outline, drawing.White),
			drawing.Line(drawing.Point{X: -1, Y: 2}, drawing.Point{X: 3, Y: 4}, drawing.Hidden),
		}})
	s.Layer(drawing.Dimensions).Add(
		drawing.Lines{Segments: []drawing.Segment{{A: drawing.Point{X: 1, Y: 1}, B: drawing.Point{X: 2, Y: 2}}}, Pen: drawing.Hair},
		drawing.Circle{Centre: drawing.Point{X: 5, Y: 5}, Radius: 1, Pen: drawing.Thin, Fill: drawing.Tint(0.5)},
		drawing.Arc{Centre: drawing.Point{X: 5, Y: 5}, Radius: 2, From: 0, To: 270, Pen: drawing.Thin},
		drawing.Text{At: drawing.Point{X: 20, Y: 20}, Text: "885 × 2010 <mm>", Height: drawing.Small, Align: drawing.Right, Turn: 90, Bold: true, Mask: true, Grey: 0.4},
		drawing.Text{At: drawing.Point{X: 20, Y: 40}, Text: "squeezed into little room", Height: drawing.Small, Max: 10},
		drawing.Text{At: drawing.Point{X: 20, Y: 60}, Text: "bell\a", Height: drawing.Small})
	return s
}

// TestWellFormed reads the document back with the standard library's XML
// parser and looks for what programs and screen readers rely on.
func TestWellFormed(t *testing.T) {
	d := xml.NewDecoder(bytes.NewReader(svg.Append(nil, scene())))
	ids := map[string]bool{}
	var titles, layers []string
	inTitle := false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch v := token.(type) {
		case xml.StartElement:
			inTitle = v.Name.Local == "title"
			for _, a := range v.Attr {
				switch {
				case a.Name.Local == "id" && ids[a.Value]:
					t.Errorf("id %q twice", a.Value)
				case a.Name.Local == "id":
					ids[a.Value] = true
				case a.Name.Local == "data-layer":
					layers = append(layers, a.Value)
				}
			}
		case xml.CharData:
			if inTitle {
				titles = append(titles, string(v))
			}
		case xml.EndElement:
			inTitle = false
		}
	}
	if got := strings.Join(titles, "|"); got != `Wall <L1-07> & "so"|stud S01: CW75 & more` {
		t.Errorf("titles: %s", got)
	}
	if got := strings.Join(layers, "|"); got != "frame|dimensions" {
		t.Errorf("layers: %s", got)
	}
	if !ids["L1-07.S01"] || !ids["L1-07.frame"] {
		t.Errorf("ids: %v", ids)
	}
}

func TestFragments(t *testing.T) {
	text := string(svg.Append(nil, scene()))
	for _, want := range []string{
		`width="420mm" height="297mm" viewBox="0 0 420 297"`,
		`d="M10 10L12.5 10L12.5 140L10 140Z"`, // 140.004 rounds to a hundredth
		`stroke-dasharray="2.16 0.54"`,
		`A2 2 0 1 0 5 7`, // an arc of 270 degrees is the long way round
		`transform="rotate(-90 20 20)"`,
		`textLength="10" lengthAdjust="spacingAndGlyphs"`,
		`clip-path="url(#L1-07.clip1)"`,
		`data-part="S01"`,
		`>885 × 2010 &lt;mm&gt;</text>`,
		`>bell </text>`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s", want)
		}
	}
}

func TestDeterministic(t *testing.T) {
	if !bytes.Equal(svg.Append(nil, scene()), svg.Append(nil, scene())) {
		t.Error("the same scene gave different bytes")
	}
}

func TestWrite(t *testing.T) {
	var b bytes.Buffer
	if err := svg.Write(&b, scene()); err != nil || b.Len() == 0 {
		t.Errorf("%d bytes, %v", b.Len(), err)
	}
}
