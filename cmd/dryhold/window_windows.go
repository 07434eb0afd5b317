package main

import (
	"bufio"
	"fmt"

	"github.com/inconshreveable/mousetrap"
)

// keepWindow waits for Enter when the program was started from the file manager
// and something went wrong, so that the message can be read.
func (a *app) keepWindow(code int) {
	if code == 0 || !mousetrap.StartedByExplorer() {
		return
	}
	fmt.Fprint(a.err, "\npress Enter to close this window ")
	bufio.NewReader(a.in).ReadString('\n')
}
