package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nogging/internal/app"
	"nogging/internal/choice"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

type chooseCommand struct {
	Plan      string   `arg:"" optional:"" help:"Plan file, to choose for a wall of it; - for standard input."`
	Wall      string   `placeholder:"ID" help:"Wall of the plan. What is asked of it and its height are taken; the flags below add to that."`
	Fire      string   `placeholder:"CLASS" help:"Fire resistance, such as \"EI 60\", F90-A or \"1 h\"."`
	Sound     string   `placeholder:"RATING" help:"Sound insulation, such as \"Rw 52\", \"R'w 50\" or \"STC 50\"."`
	Rw        string   `name:"rw" placeholder:"DB" help:"The same as --sound \"Rw DB\"."`
	Height    string   `placeholder:"LENGTH" help:"Height of the wall, such as 3600 or \"12 ft\"."`
	Duty      string   `placeholder:"DUTY" help:"Zone 1 or zone 2 (DIN 4103-1), or a grade LD, MD, HD, SD (BS 5234-2)."`
	Wet       []string `placeholder:"CLASS" help:"Water action class (DIN 18534-1), W0-I to W3-I; given twice: of face A, of face B."`
	U         string   `name:"u" placeholder:"U" help:"Greatest U-value in W/(m²K)."`
	Pressure  float64  `placeholder:"PA" help:"Uniform pressure; the practice's if left out."`
	Thickness string   `placeholder:"LENGTH" help:"Greatest finished thickness."`
	Service   string   `placeholder:"LENGTH" help:"Diameter of what has to run along the wall in its cavity."`
	Frame     []string `placeholder:"KIND" help:"Only this kind of frame. May be repeated; single, twin_independent and twin_braced if left out."`
	Head      string   `placeholder:"KIND" enum:"rigid,deflection," default:"" help:"Head of the wall: rigid or deflection."`
	Practice  string   `placeholder:"ID" help:"Practice: metric or us."`
	Rank      string   `placeholder:"MEASURE" enum:"cost,thickness,mass,labour,carbon," default:"" help:"What the winner has least of: cost, thickness, mass, labour or carbon; cost where prices are known, else thickness, if left out."`
	Catalogue []string `placeholder:"FILE" help:"The user's own products, evidence and prices. May be repeated."`
	All       bool     `help:"The whole front and not only its best."`
	JSON      bool     `name:"json" help:"Print the choice as JSON."`
	pricing   `embed:""`
}

// shownOfFront is how many build-ups of the front are shown.
const shownOfFront = 8

func (k *chooseCommand) Run(c *console) error {
	j, d, err := k.job(c)
	if err != nil {
		return err
	}
	if err := k.use(j); err != nil {
		return err
	}
	if err := k.ask(&d); err != nil {
		return err
	}
	rank, ok := choice.ParseMeasure(k.Rank)
	if !ok {
		rank = choice.Cost
	}
	o := choice.Options{Rank: rank, Most: shownOfFront, About: true}
	if k.All {
		o.Most = 0
	}
	r, err := j.Choose(d, o)
	if err != nil {
		return err
	}
	if k.JSON {
		err = printJSON(c.out, app.ChosenOf(d, j.Practice.ID, r, j.Findings))
	} else {
		err = k.print(c, d, j, r)
	}
	if err == nil && (r.Standing >= choice.Unknown || j.Findings.Count(finding.Error) > 0) {
		return errFindings
	}
	return err
}

// job opens the plan with the wall's demand, or the catalogues alone.
func (k *chooseCommand) job(c *console) (*app.Job, choice.Demand, error) {
	if k.Plan == "" {
		if k.Wall != "" {
			return nil, choice.Demand{}, errors.New("--wall needs a plan\n  hint: nogging choose PLAN --wall " + k.Wall)
		}
		j, err := app.OpenCatalogues(k.Catalogue, k.Practice, func(file string) ([]byte, error) { return os.ReadFile(filepath.FromSlash(file)) })
		return j, choice.Demand{}, err
	}
	if k.Wall == "" {
		return nil, choice.Demand{}, errors.New("which wall of the plan?\n  hint: nogging choose " + k.Plan + " --wall ID")
	}
	if len(k.Catalogue) > 0 || k.Practice != "" {
		return nil, choice.Demand{}, errors.New("a plan names its own catalogue and practice\n  hint: write them into the plan, or leave the plan out")
	}
	j, err := open(c, k.Plan)
	if err != nil {
		return nil, choice.Demand{}, err
	}
	j.Build(app.Quiet)
	d, err := j.DemandOf(k.Wall)
	return j, d, err
}

// ask adds what the flags ask.
func (k *chooseCommand) ask(d *choice.Demand) error {
	r := &d.Require
	for _, one := range []struct {
		to    *string
		value string
	}{{&r.Fire, k.Fire}, {&r.Sound, k.Sound}, {&r.Duty, k.Duty}, {&r.UValue, k.U}, {&d.Head, k.Head}} {
		if one.value != "" {
			*one.to = one.value
		}
	}
	if k.Rw != "" {
		if k.Sound != "" {
			return errors.New("--rw and --sound say the same thing twice: give one")
		}
		r.Sound = "Rw " + k.Rw
	}
	if k.Pressure != 0 {
		r.Pressure = k.Pressure
	}
	switch len(k.Wet) {
	case 0:
	case 1:
		d.Wet = [2]string{k.Wet[0], k.Wet[0]}
	case 2:
		d.Wet = [2]string(k.Wet)
	default:
		return errors.New("--wet is given more than twice: a wall has two faces")
	}
	for _, one := range []struct {
		flag, text string
		to         *quantity.Length
	}{{"--height", k.Height, &d.Height}, {"--thickness", k.Thickness, &d.Thickness}, {"--service", k.Service, &d.Service}} {
		if one.text == "" {
			continue
		}
		l, err := quantity.ParseLength(one.text)
		if err != nil {
			return fmt.Errorf("%s: %w", one.flag, err)
		}
		*one.to = l
	}
	for _, f := range k.Frame {
		d.Frames = append(d.Frames, plan.FrameKind(f))
	}
	if d.Height == 0 {
		return errors.New("how high is the wall?\n  hint: --height 3000")
	}
	return nil
}

// print writes the choice for people.
func (k *chooseCommand) print(c *console, d choice.Demand, j *app.Job, r *choice.Result) error {
	printFindings(c, slices.DeleteFunc(slices.Clone(j.Findings), func(f finding.Finding) bool { return f.Severity != finding.Error }))
	fmt.Fprintf(c.out, "asked: %s\n", app.DemandWords(d))
	if r.Standing == choice.Fails {
		fmt.Fprintf(c.out, "nothing among %d build-ups does all that is asked\n", r.Tried)
		printRelaxed(c.out, r)
	} else {
		if err := printChosen(c.out, j, r); err != nil {
			return err
		}
	}
	if (k.Rank == "cost" || k.Rank == "") && !r.Priced {
		fmt.Fprintf(c.err, "No prices are known, none ship, so %s ranks; prices of your own go into a catalogue under `prices`.\n", r.Rank)
	}
	if j.Plan.Seismic != (plan.Seismic{}) {
		fmt.Fprintln(c.err, "The plan's earthquake is not looked at here; `nogging prove` does.")
	}
	fmt.Fprintln(c.err, "Not a certificate: the local code and a licensed professional decide. `nogging prove` proves the wall in its plan.")
	return nil
}

// how says how far standings carry.
var how = map[choice.Standing]string{
	choice.Proven:   "proven by calculation or test evidence",
	choice.Expected: "NOT PROVEN: expected by estimate or by records that leave points open",
	choice.Unknown:  "NOT PROVEN: nothing tells whether they do what is asked",
}

func printChosen(out io.Writer, j *app.Job, r *choice.Result) error {
	won := &r.Front[0]
	fmt.Fprintf(out, "%d build-ups tried; on the front are %d that none betters in every measure, %s\n\n", r.Tried, r.OnFront, how[r.Standing])
	printFront(out, r)
	fmt.Fprintf(out, "\nchosen: %s\n  %s\n", choice.Words(won.Build), r.Why())
	for _, o := range won.Open() {
		fmt.Fprintln(out, "  open:", o)
	}
	if len(r.Near) > 0 {
		fmt.Fprintln(out, "\nwhat stands in the way of others:")
	}
	for i := range r.Near {
		n := &r.Near[i]
		fmt.Fprintf(out, "  %s: %s\n", choice.Words(n.Build), n.Measures.Figure(r.Rank))
		for _, f := range n.Failed() {
			fmt.Fprintf(out, "    fails %s %s: %s\n", f.About, f.Asked, f.By)
		}
		if len(n.Failed()) == 0 {
			fmt.Fprintf(out, "    %s is not shown as far\n", n.Without)
		}
	}
	if len(r.Relaxed) > 0 {
		fmt.Fprintln(out, "\nwhat is expected to do, if less is asked:")
		printRelaxed(out, r)
	}
	text, err := choice.YAML(won.Build, "W1")
	fmt.Fprintf(out, "\n%s", text)
	return err
}

// printFront writes the build-ups of the front as a table, the chosen one first.
func printFront(out io.Writer, r *choice.Result) {
	rows := [][]string{{"BUILD-UP", "MM", "KG/M²", "H/M²", "KG CO2E/M²", "SOUND", "HEIGHT", "FIRE"}}
	if r.Priced {
		rows[0] = append(rows[0], "COST/M²")
	}
	for i := range r.Front {
		f := &r.Front[i]
		row := []string{choice.Words(f.Build)}
		for _, m := range []choice.Measure{choice.Thickness, choice.Mass, choice.Labour, choice.Carbon} {
			row = append(row, strings.TrimSuffix(f.Measures.Figure(m), " "+m.Unit()))
		}
		for _, about := range []string{"sound", "structure", "fire"} {
			n, _ := f.Need(about)
			row = append(row, gotWords(n))
		}
		if r.Priced {
			row = append(row, strings.TrimSuffix(f.Measures.Figure(choice.Cost), " "+choice.Cost.Unit()))
		}
		rows = append(rows, row)
	}
	printTable(out, rows)
}

// gotWords writes what a build-up reaches of a need, shortly.
func gotWords(n choice.Need) string {
	switch {
	case n.About == "":
		return "-"
	case n.Got == "":
		return n.Standing.String()
	}
	got, _, _ := strings.Cut(n.Got, " by ")
	if n.Standing != choice.Proven {
		got += " ?"
	}
	return got
}

// printRelaxed says what would do with one need relaxed.
func printRelaxed(out io.Writer, r *choice.Result) {
	if len(r.Relaxed) == 0 {
		fmt.Fprintln(out, "  hint: no single thing that is asked stands in the way; ask for less in two at once, or add products or test evidence with --catalogue")
	}
	for i := range r.Relaxed {
		x := &r.Relaxed[i]
		fmt.Fprintf(out, "  with %s relaxed to %s: %s (%s)\n", x.Need, x.Asked, choice.Words(x.Build), x.Candidate.Standing())
		for _, f := range x.Failed() {
			fmt.Fprintf(out, "    fails %s %s: %s\n", f.About, f.Asked, f.By)
		}
	}
}
