package main

import (
	"bufio"
	"fmt"

	"github.com/inconshreveable/mousetrap"
)

// keepWindow waits for Enter when the program was started from the file manager,
// so that the table or the message can be read.
func (a *app) keepWindow() {
	if !mousetrap.StartedByExplorer() {
		return
	}
	fmt.Fprint(a.err, "\npress Enter to close this window ")
	bufio.NewReader(a.in).ReadString('\n')
}
