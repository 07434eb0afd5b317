//go:build !windows

package main

// keepWindow is for Windows: elsewhere the terminal stays.
func (*app) keepWindow() {}
