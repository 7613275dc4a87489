/** Where rays meet solids, as datapaths. */
package dev.plumbline.models.solid;
