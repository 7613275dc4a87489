/**
 * Text made fit for people: nearest names, plain text, the words of I/O errors. Internal to this
 * module.
 */
package dev.plumbline.text;
