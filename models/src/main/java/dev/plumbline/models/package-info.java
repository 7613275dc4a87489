/** The base of what the models throw. */
package dev.plumbline.models;
