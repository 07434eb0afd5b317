package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"dryhold/analysis/job"
	"dryhold/cmd/dryhold/internal/keys"
)

// app is one run of the program: where it reads and writes, and the settings
// that all commands share.
type app struct {
	in             io.Reader
	out, err       io.Writer
	quiet, verbose bool
	passphraseFile string
	now            func() time.Time // the only clock
	store          *keys.Store
	told           sync.Map // notes that are given once
	worst          int      // of the outcomes so far, for commands that go on after a fault
}

// run is the whole program; the result is the exit code.
func run(args []string, in io.Reader, out, errs io.Writer) (code int) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	a := &app{in: in, out: clean{out}, err: clean{errs}, now: time.Now}
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(a.err, "dryhold: error: internal: %v\n%s", p, debug.Stack())
			code = codeInternal
		}
		a.keepWindow()
	}()
	root := a.root()
	if runtime.GOOS == "windows" {
		args = expanded(args) // its command line leaves that to the program
	}
	root.SetArgs(dropped(root, args))
	err := root.ExecuteContext(ctx)
	if ctx.Err() != nil {
		return codeInterrupted
	}
	if err != nil {
		a.worse(a.report(err))
	}
	return a.worst
}

func (a *app) worse(code int) { a.worst = max(a.worst, code) }

func (a *app) root() *cobra.Command {
	cobra.MousetrapHelpText = "" // folders may be dropped on the program
	cobra.EnableCommandSorting = false
	root := &cobra.Command{
		Use:     "dryhold",
		Version: versionLine(),
		Short:   "signed records of evacuation and pressure tests of refrigerant circuits",
		Long: "Dryhold reads one job description and the spreadsheets that the instruments exported,\n" +
			"works out what the readings show and what they cannot show, and issues a signed PDF record.\n\n" +
			"Begin with: dryhold help quick-start",
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usage(fmt.Errorf("there is no command %q", args[0]), meant(args[0], commands(c))+"dryhold help lists the commands")
			}
			return c.Help()
		},
	}
	root.SetVersionTemplate("{{.Version}}\n")
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return usage(plainFlag(err), unknownFlag(c, err)+c.CommandPath()+" --help shows the options")
	})
	f := root.PersistentFlags()
	f.BoolVarP(&a.quiet, "quiet", "q", false, "say only what is wrong")
	f.BoolVarP(&a.verbose, "verbose", "v", false, "say more")
	f.StringVar(&a.passphraseFile, "passphrase-file", "", "file whose first line opens the signing key")
	root.AddCommand(a.makeCommand(), a.checkCommand(), a.verifyCommand(), a.compareCommand(), a.extractCommand(),
		a.keyCommand(), a.newCommand(), a.formCommand(), a.registerCommand(), a.templatesCommand(), a.schemaCommand(), a.versionCommand())
	root.SetHelpCommand(a.helpCommand(root))
	root.InitDefaultCompletionCmd()
	if c, _, err := root.Find([]string{"completion"}); err == nil {
		c.Short = "print what completes the commands in a shell"
	}
	a.store = keys.Open(a.passphrase)
	return root
}

// args wraps a check of the number of arguments as a fault of usage.
func args(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, list []string) error {
		err := check(c, list)
		switch {
		case err == nil:
			return nil
		case strings.Contains(err.Error(), "arg(s)"): // the library's words for a wrong number of them
			_, takes, _ := strings.Cut(c.Use, " ")
			given := "nothing"
			if len(list) > 0 {
				given = counted(len(list), "name")
			}
			err = fmt.Errorf("%s was given %s; it takes %s", c.CommandPath(), given, takes)
		case strings.Contains(err.Error(), "unknown command"):
			err = fmt.Errorf("%s takes no name, and was given %q", c.CommandPath(), list[0])
			if c.HasSubCommands() {
				return usage(fmt.Errorf("there is no command %q of %s", list[0], c.CommandPath()), meant(list[0], commands(c))+c.CommandPath()+" --help lists them")
			}
		case len(c.ValidArgs) > 0 && strings.Contains(err.Error(), "invalid argument"):
			err = fmt.Errorf("%q is none of %s", strings.Join(list, " "), strings.Join(c.ValidArgs, ", "))
		}
		example, _, _ := strings.Cut(strings.TrimSpace(c.Example), "\n")
		return usage(err, cmp.Or(strings.TrimSpace(example), c.UseLine())+"\n"+c.CommandPath()+" --help tells more")
	}
}

// expanded puts the files that a pattern names in its place; a pattern that names
// none stays, and is told as a file that is not there.
func expanded(args []string) (list []string) {
	for _, one := range args {
		found, err := filepath.Glob(one)
		if !strings.ContainsAny(one, "*?") || err != nil || len(found) == 0 {
			found = []string{one}
		}
		list = append(list, found...)
	}
	return list
}

// dropped turns paths without a command, as a file manager gives them, into
// "make", with the records in a folder beside the job.
func dropped(root *cobra.Command, list []string) []string {
	if len(list) == 0 {
		return list
	}
	if c, _, err := root.Find(list); err == nil && c != root {
		return list
	}
	for _, path := range list {
		if _, err := os.Stat(path); err != nil {
			return list
		}
	}
	return append([]string{"make", "--out", besideJobs(list)}, list...)
}

// commands are the names of a command's own commands.
func commands(c *cobra.Command) (names []string) {
	for _, one := range c.Commands() {
		names = append(names, one.Name())
	}
	return names
}

// meant is the first part of a hint: what was probably meant, "" where nothing is near.
func meant(written string, names []string) string {
	if near := job.Nearest(written, names); near != "" {
		return "did you mean " + near + "? "
	}
	return ""
}

var option = regexp.MustCompile(`--[a-z-]+`)

// unknownFlag is what an unknown option was probably meant to be.
func unknownFlag(c *cobra.Command, err error) string {
	_, written, ok := strings.Cut(err.Error(), "unknown flag: ")
	if !ok {
		return ""
	}
	return meant(written, option.FindAllString(c.Flags().FlagUsages(), -1))
}

var errQuiet = errors.New("reported already")

// plainFlag is a fault of an option without the text of the library that reads it.
func plainFlag(err error) error {
	text, reason, raw := strings.Cut(err.Error(), ": strconv.")
	switch {
	case !raw:
		return err
	case strings.HasPrefix(reason, "ParseBool"):
		return errors.New(text + "; it takes none")
	}
	return errors.New(text + "; it takes a whole number")
}
