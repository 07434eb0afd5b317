// Package seal turns a drawn document into a signed archival record and reads it back.
package seal
