/** What is kept of a mismatch, and how files come to be whole and safe to open. */
package dev.plumbline.evidence;
