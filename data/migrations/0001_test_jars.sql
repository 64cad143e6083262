CREATE TABLE `kitchen_laws` (
	`shop_id` text NOT NULL,
	`revision` integer NOT NULL,
	`law` text,
	`jars` integer NOT NULL,
	`adopted_at` integer NOT NULL,
	PRIMARY KEY(`shop_id`, `revision`),
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `test_jars` (
	`id` text PRIMARY KEY NOT NULL,
	`shop_id` text NOT NULL,
	`number` integer NOT NULL,
	`title` text NOT NULL,
	`parts` text NOT NULL,
	`net_mg` integer NOT NULL,
	`jar_ul` integer NOT NULL,
	`days_rested` integer NOT NULL,
	`celsius` real NOT NULL,
	`grade` text,
	`cone_depth_tenth_mm` real,
	`cone_weight_g` real,
	`cone_angle_degrees` real,
	`lot` text NOT NULL,
	`note` text NOT NULL,
	`recorded_at` integer NOT NULL,
	`struck_at` integer,
	FOREIGN KEY (`shop_id`) REFERENCES `shops`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "test_jar_weighed" CHECK("test_jars"."net_mg" > 0 and "test_jars"."jar_ul" > 0),
	CONSTRAINT "test_jar_read_once" CHECK(("test_jars"."grade" is null) = ("test_jars"."cone_depth_tenth_mm" is not null
        and "test_jars"."cone_weight_g" is not null and "test_jars"."cone_angle_degrees" is not null))
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `test_jars_number` ON `test_jars` (`shop_id`,`number`);--> statement-breakpoint
ALTER TABLE `shops` ADD `law_revision` integer DEFAULT 0 NOT NULL;