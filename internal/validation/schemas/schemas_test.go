package schemas

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"

	"nogging/internal/app"
	"nogging/internal/plantest"
	"nogging/internal/programme"
)

const root = "../../.."

// closed returns a kind's schema as a validator that takes no property that the schema
// does not name: the published one leaves room for what later versions add.
func closed(t *testing.T, kind string) *jsonschema.Resolved {
	t.Helper()
	s, err := schemaOf(kind, root)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range append([]*jsonschema.Schema{s}, mapValues(s.Defs)...) {
		if x.Properties != nil {
			x.AdditionalProperties = &jsonschema.Schema{Not: &jsonschema.Schema{}}
		}
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func mapValues(m map[string]*jsonschema.Schema) (list []*jsonschema.Schema) {
	for _, v := range m {
		list = append(list, v)
	}
	return list
}

func holds(t *testing.T, r *jsonschema.Resolved, what string, data []byte) {
	t.Helper()
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(what, err)
	}
	if err := r.Validate(v); err != nil {
		t.Errorf("%s: %v", what, err)
	}
}

func demo(t *testing.T) *app.Job {
	t.Helper()
	j, err := app.Open(root+"/demo/clinic.yaml", os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	j.Build(app.Quiet)
	return j
}

// TestDemo: everything that the demo gives follows its schema.
func TestDemo(t *testing.T) {
	j := demo(t)
	var out bytes.Buffer
	if err := j.WriteResult(&out); err != nil {
		t.Fatal(err)
	}
	holds(t, closed(t, "result"), "result", out.Bytes())
	proofs, err := j.Prove(nil, app.Quiet)
	if err != nil {
		t.Fatal(err)
	}
	holds(t, closed(t, "proofs"), "proofs", asJSON(t, proofs))
	gangs, err := os.ReadFile(root + "/demo/site/gangs.yaml")
	if err != nil {
		t.Fatal(err)
	}
	site, _ := programme.ReadSite("gangs.yaml", gangs)
	start, _ := programme.ParseDate("2027-01-11")
	done, err := j.OpenRecord(root+"/demo/site/done.yaml", os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	for _, today := range []programme.Date{start + 16, 0} {
		w := app.Works{Site: site, Start: start, Today: today, Schedules: 1}
		if today > 0 {
			w.Done = done
		}
		holds(t, closed(t, "programme"), "programme", asJSON(t, j.Programme(t.Context(), w)))
		if testing.Short() {
			break
		}
	}
	prices, err := j.OpenPrices(root+"/demo/prices/rates.yaml", []string{root + "/demo/prices/prices.csv"}, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	holds(t, closed(t, "order"), "order", asJSON(t, j.Price(prices).Order))
}

func asJSON(t *testing.T, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestSituations: the result of every situation of the trade follows the schema.
func TestSituations(t *testing.T) {
	schema := closed(t, "result")
	for _, s := range plantest.Situations() {
		p, _ := s.Plan()
		j := app.OfPlan(p, os.ReadFile)
		j.Build(app.Quiet)
		var out bytes.Buffer
		if err := j.WriteResult(&out); err != nil {
			t.Fatal(err)
		}
		holds(t, schema, s.Name, out.Bytes())
	}
}

// TestCurrent: the schemas in the repository are those of the sources; `make generate`
// writes them anew.
func TestCurrent(t *testing.T) {
	for _, kind := range Kinds() {
		want, err := Of(kind, root)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(root + "/schema/" + kind + ".schema.json"); err != nil || !bytes.Equal(got, want) {
			t.Errorf("schema/%s.schema.json is not current: make generate (%v)", kind, err)
		}
	}
}

// TestUnits: every number says what it is, with its unit in the words.
func TestUnits(t *testing.T) {
	for _, kind := range Kinds() {
		s, err := schemaOf(kind, root)
		if err != nil {
			t.Fatal(err)
		}
		s.Defs[kind] = s
		for name, d := range s.Defs {
			for field, p := range d.Properties {
				if number := p.Type == "number" || p.Items != nil && p.Items.Type == "number"; number && p.Description == "" {
					t.Errorf("%s: %s.%s says no unit: write a comment beside the field", kind, name, field)
				}
			}
		}
	}
}

// TestRefuses: results in which something is wrong do not pass.
func TestRefuses(t *testing.T) {
	var out bytes.Buffer
	j := app.OfPlan(plantest.Offices(4), os.ReadFile)
	j.Build(app.Quiet)
	if err := j.WriteResult(&out); err != nil {
		t.Fatal(err)
	}
	schema := closed(t, "result")
	holds(t, schema, "whole", out.Bytes())
	for from, to := range map[string]string{
		`"thickness":100`: `"thickness":"100"`, `"role":"stud"`: `"role":"joist"`, `"level":`: `"storey":`, `"walls":[`: `"wall":[`, `"mark":"S01"`: `"mark":1`,
	} {
		wrong := strings.Replace(out.String(), from, to, 1)
		var v any
		if err := json.Unmarshal([]byte(wrong), &v); err != nil || wrong == out.String() {
			t.Errorf("%s cannot be put for %s: %v", to, from, err)
		} else if schema.Validate(v) == nil {
			t.Errorf("%s passes", to)
		}
	}
	if slices.Contains(Kinds(), "plan") {
		t.Error("plans have their own schema")
	}
}
