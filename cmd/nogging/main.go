// Command nogging takes an architect's plan through to what a drylining crew
// builds from: `nogging read` makes a plan of a building model, `nogging check`
// looks for mistakes in it, `nogging build` lays out every wall and writes
// drawings and take-off.
//
// How it speaks: results go to standard output, everything else to standard
// error. A finding says where, what, by how much, and what would work. Exit
// status 0 means good, 1 that findings need a person, 2 that the command was
// used wrongly or a file could not be read or written.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"github.com/alecthomas/kong"

	"nogging/internal/app"
)

// version is set by the build.
var version = "dev"

// Exit statuses.
const (
	exitGood     = 0
	exitFindings = 1
	exitMisuse   = 2
)

// errFindings is what a command returns when it did its work and there are
// findings that need a person.
var errFindings = errors.New("findings need a person")

type commands struct {
	Serve     serveCommand     `cmd:"" help:"Open the page: draw, ask, prove, order and price in a browser."`
	Read      readCommand      `cmd:"" help:"Make a plan of a building model (IFC)."`
	Check     checkCommand     `cmd:"" help:"Look for mistakes in a plan."`
	Choose    chooseCommand    `cmd:"" help:"Choose build-ups for what is asked of a wall."`
	Build     buildCommand     `cmd:"" help:"Lay out every wall; write drawings, take-off and the PDF pack."`
	Prove     proveCommand     `cmd:"" help:"Prove whether walls do what is asked of them, with every derivation."`
	Order     orderCommand     `cmd:"" help:"Turn the take-off into packs to buy, call-offs and purchase lists."`
	Price     priceCommand     `cmd:"" help:"Price the order and the work; write a bid."`
	Compare   compareCommand   `cmd:"" help:"Say what changes between two plans, and what that does to order, hours and price."`
	Masonry   masonryCommand   `cmd:"" help:"Hold the partitions beside block walls: mass, floor area, hours, cost."`
	Cut       cutCommand       `cmd:"" help:"Cutting plans: which pieces to cut from which bar of each profile."`
	Merge     mergeCommand     `cmd:"" help:"Put a wall or door schedule into a plan."`
	Export    exportCommand    `cmd:"" help:"Give the walls as built up, part by part, to other programs."`
	Survey    surveyCommand    `cmd:"" help:"Bend a plan to what was measured on site."`
	Programme programmeCommand `cmd:"" help:"Programme of work: who does what when, with drying times, inspections and deliveries."`
	New       newCommand       `cmd:"" help:"Write a commented plan to start from."`
	Catalogue catalogueCommand `cmd:"" help:"List the products and the rules of practice that plans can name."`
	Schema    schemaCommand    `cmd:"" help:"Print the JSON Schema of plan files, for editors."`
	Version   versionCommand   `cmd:"" help:"Print the version."`
}

// console is where a command speaks to.
type console struct {
	in       io.Reader
	out, err io.Writer
	colour   bool // the reader sees colours
	watched  bool // a person watches standard error
}

// memoryWanted is how far memory may grow before garbage is collected more
// eagerly: projects of 20,000 walls with all their drawings stay within what a
// small machine has. It is no limit; GOMEMLIMIT sets another.
const memoryWanted = 1500 << 20

func main() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryWanted)
	}
	c := &console{
		in: os.Stdin, out: os.Stdout, err: os.Stderr,
		colour:  isTerminal(os.Stdout) && os.Getenv("NO_COLOR") == "",
		watched: isTerminal(os.Stderr),
	}
	os.Exit(run(os.Args[1:], c))
}

// run carries out one command line and returns the exit status.
func run(args []string, c *console) (status int) {
	var cmds commands
	exited := -1
	parser, err := kong.New(&cmds,
		kong.Name("nogging"),
		kong.Description("From the architect's plan to set-out, framing, boards and take-off of drylined partitions."),
		kong.UsageOnError(),
		kong.Vars{"export_formats": app.ExportFormats()},
		kong.Writers(c.out, c.err),
		kong.Exit(func(int) { exited = exitGood }),
	)
	if err != nil {
		fmt.Fprintln(c.err, "nogging:", err)
		return exitMisuse
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	ctx, err := parser.Parse(args)
	if exited >= 0 {
		return exited // --help has been answered
	}
	if err != nil {
		fmt.Fprintln(c.err, "nogging:", err)
		fmt.Fprintln(c.err, "  hint: nogging --help lists the commands, nogging COMMAND --help what each takes")
		return exitMisuse
	}
	switch err := ctx.Run(c); {
	case err == nil:
		return exitGood
	case errors.Is(err, errFindings):
		return exitFindings
	default:
		fmt.Fprintln(c.err, "nogging:", err)
		return exitMisuse
	}
}
