-- A store of version 2, as a program of that version wrote it. Everything in it is invented.
BEGIN TRANSACTION;
CREATE TABLE choice (
    seq INTEGER PRIMARY KEY,
    monday TEXT NOT NULL,
    hash TEXT NOT NULL REFERENCES plan (hash)
, sum INTEGER NOT NULL DEFAULT 0) STRICT;
INSERT INTO "choice" VALUES(1,'2026-11-30','bdd32f222931af9d00f4bae48accf1fdab31a2eb8780f2778600f2d6ce9bd3ce',-1421532346272130641);
INSERT INTO "choice" VALUES(2,'2026-11-30','4b9329fa96aa82250d7055a53d68a3b89cbce8c0a76deef41ff0a5488a44e998',-9204544823485344191);
CREATE TABLE document (
    name TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version > 0),
    record TEXT NOT NULL,
    sum INTEGER NOT NULL,
    PRIMARY KEY (name, version)
) STRICT, WITHOUT ROWID;
INSERT INTO "document" VALUES('foods',1,'[]',8625406332804518228);
INSERT INTO "document" VALUES('foods',2,'[1]',8718818322185631029);
INSERT INTO "document" VALUES('household',1,'one',4165356959672504691);
INSERT INTO "document" VALUES('household',2,'two',-7312146945454813446);
CREATE TABLE event (
    seq INTEGER PRIMARY KEY,
    -- Not unique: two devices may report the same thing under one id; the earlier clock counts.
    id TEXT NOT NULL,
    -- The clock in force, by which events are ordered.
    wall_ms INTEGER NOT NULL,
    count INTEGER NOT NULL,
    device TEXT NOT NULL,
    -- The clock the event came with, where that lay too far ahead and was replaced.
    said_wall_ms INTEGER,
    said_count INTEGER,
    received_ms INTEGER NOT NULL,
    -- The local date as a number: 20261125.
    day INTEGER NOT NULL,
    kind TEXT NOT NULL,
    corrects TEXT,
    counts INTEGER NOT NULL CHECK (counts IN (0, 1)),
    -- The event as it was sent, and the sum of its bytes: a damaged disk must not change what was eaten.
    record TEXT NOT NULL,
    sum INTEGER NOT NULL, arrival_sum INTEGER NOT NULL DEFAULT 0,
    CHECK ((said_wall_ms IS NULL) = (said_count IS NULL))
) STRICT;
INSERT INTO "event" VALUES(1,'7-0',1795013569402,0,'server',NULL,NULL,1829560000000,20261118,'served',NULL,1,'{"v":1,"id":"7-0","clock":{"wall_ms":1795013569402,"count":0,"device":"server"},"moment":{"at":"2026-11-18T10:46:30","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"served":{"sitting":"2026-11-18-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"told"}}}',1717594683265313541,-3630238327035025587);
INSERT INTO "event" VALUES(2,'7-1',1795016473764,0,'server',NULL,NULL,1829560000000,20261118,'served',NULL,1,'{"v":1,"id":"7-1","clock":{"wall_ms":1795016473764,"count":0,"device":"server"},"moment":{"at":"2026-11-18T11:34:44","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"served":{"sitting":"2026-11-18-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"skipped"}}}',1974030486956406742,-3924236087137157805);
INSERT INTO "event" VALUES(3,'7-2',1795036265985,0,'tablet',NULL,NULL,1829560000000,20261118,'bought',NULL,1,'{"v":1,"id":"7-2","clock":{"wall_ms":1795036265985,"count":0,"device":"tablet"},"moment":{"at":"2026-11-18T17:04:03","offset_s":-21600,"zone":"America/Chicago"},"fact":{"bought":{"trip":"2026-11-28/1","count":5,"price_minor":679,"reported":"told"}},"cards":[{"lot":"spinach@2026-11-18/2","goods":{"food":"spinach"},"made":"2026-11-18T17:04:03","pack":"500 g"}],"moves":[{"lot":"spinach@2026-11-18/2","from":"shop","to":"cupboard","mg":544468,"worth":888054}]}',6942512833401786163,57782867078655473);
INSERT INTO "event" VALUES(4,'7-3',1795045485091,0,'server',NULL,NULL,1829560000000,20261118,'served',NULL,1,'{"v":1,"id":"7-3","clock":{"wall_ms":1795045485091,"count":0,"device":"server"},"moment":{"at":"2026-11-18T19:38:01","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"served":{"sitting":"2026-11-18-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"skipped"}}}',-1566500597711348736,-3362851187600232407);
INSERT INTO "event" VALUES(5,'7-4',1795052598090,0,'phone',NULL,NULL,1829560000000,20261118,'checked',NULL,0,'{"v":1,"id":"7-4","clock":{"wall_ms":1795052598090,"count":0,"device":"phone"},"moment":{"at":"2026-11-18T21:36:55","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":"checked","moves":[{"lot":"spinach@2026-11-18/2","from":"cupboard","to":"unaccounted","mg":473687,"worth":772606}]}',5501303816086116654,8424410053850869049);
INSERT INTO "event" VALUES(6,'7-5',1795066499973,0,'phone',NULL,NULL,1829560000000,20261119,'closed',NULL,1,'{"v":1,"id":"7-5","clock":{"wall_ms":1795066499973,"count":0,"device":"phone"},"moment":{"at":"2026-11-19T01:28:31","offset_s":-21600,"zone":"America/Chicago"},"fact":{"closed":{"monday":"2026-11-19"}}}',4389265721289872841,-4506785382062052856);
INSERT INTO "event" VALUES(7,'7-6',1795067393309,0,'phone',NULL,NULL,1829560000000,20261119,'ticked',NULL,1,'{"v":1,"id":"7-6","clock":{"wall_ms":1795067393309,"count":0,"device":"phone"},"moment":{"at":"2026-11-19T01:43:24","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"ticked":{"food":"olive-oil","state":null}}}',963301298684528499,-1877374156262455325);
INSERT INTO "event" VALUES(8,'7-7',1795072893335,0,'tablet',NULL,NULL,1829560000000,20261119,'served',NULL,1,'{"v":1,"id":"7-7","clock":{"wall_ms":1795072893335,"count":0,"device":"tablet"},"moment":{"at":"2026-11-19T03:15:03","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"served":{"sitting":"2026-11-19-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"presumed"}},"moves":[{"lot":"spinach@2026-11-18/2","from":"cupboard","to":"eaten","mg":57332,"worth":93511}]}',-1235080286883399005,8714119817839212541);
INSERT INTO "event" VALUES(9,'7-7',1795072904194,9,'phone',NULL,NULL,1829560000000,20261119,'served',NULL,0,'{"v":1,"id":"7-7","clock":{"wall_ms":1795072904194,"count":9,"device":"phone"},"moment":{"at":"2026-11-19T03:15:03","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"served":{"sitting":"2026-11-19-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"presumed"}},"moves":[{"lot":"spinach@2026-11-18/2","from":"cupboard","to":"eaten","mg":57332,"worth":93511}]}',5120646102538712548,-1572463593023798918);
INSERT INTO "event" VALUES(10,'7-9',1795072903906,0,'server',NULL,NULL,1829560000000,20261119,'returned',NULL,1,'{"v":1,"id":"7-9","clock":{"wall_ms":1795072903906,"count":0,"device":"server"},"moment":{"at":"2026-11-19T03:15:03","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"returned":{"sitting":"2026-11-19-dinner"}},"moves":[{"lot":"spinach@2026-11-18/2","from":"eaten","to":"bin","mg":4828}]}',-4660334088450750355,-7464423031033567065);
INSERT INTO "event" VALUES(11,'7-10',1795085045349,0,'server',NULL,NULL,1829560000000,20261119,'moved',NULL,1,'{"v":1,"id":"7-10","clock":{"wall_ms":1795085045349,"count":0,"device":"server"},"moment":{"at":"2026-11-19T06:37:33","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":"moved","moves":[{"lot":"spinach@2026-11-18/2","from":"cupboard","to":"freezer","mg":13449,"worth":21937}]}',-8103612606341133023,4069499563835670569);
INSERT INTO "event" VALUES(12,'7-11',1795096190827,0,'server',NULL,NULL,1829560000000,20261119,'bought',NULL,1,'{"v":1,"id":"7-11","clock":{"wall_ms":1795096190827,"count":0,"device":"server"},"moment":{"at":"2026-11-19T09:43:33","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","fact":{"bought":{"trip":"2026-11-28/1","count":4,"price_minor":431,"reported":"told"}},"cards":[{"lot":"salt@2026-11-19/11","goods":{"food":"salt"},"made":"2026-11-19T09:43:33","printed":"2026-11-28","pack":"500 g"}],"moves":[{"lot":"salt@2026-11-19/11","from":"shop","to":"freezer","mg":300842,"worth":508726}]}',-203466917519713772,-6842835635394667093);
INSERT INTO "event" VALUES(13,'7-12',1795099462008,0,'tablet',NULL,NULL,1829560000000,20261119,'cooked',NULL,1,'{"v":1,"id":"7-12","clock":{"wall_ms":1795099462008,"count":0,"device":"tablet"},"moment":{"at":"2026-11-19T10:38:01","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"cooked":{"batch":"chickpeas@2026-11-19/1","component":"chickpeas","way":"dry","session":"2026-11-29/1","x_mg":500000,"expected_mg":1200000,"output_mg":207198,"measured":"expected","minutes":23,"minutes_planned":90,"reported":"told"}},"moves":[{"lot":"salt@2026-11-19/11","from":"freezer","to":"batch:chickpeas@2026-11-19/1","mg":198555,"worth":335757},{"lot":"pot:chickpeas@2026-11-19/1","from":"batch:chickpeas@2026-11-19/1","to":"trim","mg":16802},{"lot":"pot:chickpeas@2026-11-19/1","from":"cooking-change","to":"batch:chickpeas@2026-11-19/1","mg":25445}]}',-7931571236696929830,1520118883178037087);
INSERT INTO "event" VALUES(14,'7-13',1795102468001,0,'tablet',NULL,NULL,1829560000000,20261119,'cooled',NULL,1,'{"v":1,"id":"7-13","clock":{"wall_ms":1795102468001,"count":0,"device":"tablet"},"moment":{"at":"2026-11-19T11:28:01","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"cooled":{"batch":"chickpeas@2026-11-19/1","readings":[{"at":"2026-11-19T10:38:01","deci_c":null},{"at":"2026-11-19T10:38:01","deci_c":400},{"at":"2026-11-19T10:38:01","deci_c":200}]}}}',8875893651881672941,-4089501439635281719);
INSERT INTO "event" VALUES(15,'7-14',1795102487695,0,'phone',NULL,NULL,1829560000000,20261119,'stored',NULL,1,'{"v":1,"id":"7-14","clock":{"wall_ms":1795102487695,"count":0,"device":"phone"},"moment":{"at":"2026-11-19T11:28:01","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"stored":{"batch":"chickpeas@2026-11-19/1"}},"cards":[{"lot":"chickpeas@2026-11-19/1/1","goods":{"component":"chickpeas"},"made":"2026-11-19T11:28:01","boxes":[{"box":"box-1l","count":1}]},{"lot":"chickpeas@2026-11-19/1/2","goods":{"component":"chickpeas"},"made":"2026-11-19T11:28:01","boxes":[{"box":"box-1l","count":1}]}],"moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"batch:chickpeas@2026-11-19/1","to":"freezer","mg":103599,"worth":167878},{"lot":"chickpeas@2026-11-19/1/2","from":"batch:chickpeas@2026-11-19/1","to":"fridge","mg":103599,"worth":167878}]}',6158972509038498243,-2236725490303946909);
INSERT INTO "event" VALUES(16,'7-15',1795108033728,15,'phone',NULL,NULL,1829560000000,20261119,'served',NULL,1,'{"v":1,"id":"7-15","clock":{"wall_ms":1795108033728,"count":15,"device":"phone"},"moment":{"at":"2026-11-19T13:00:16","offset_s":-21600,"zone":"America/Chicago"},"fact":{"served":{"sitting":"2026-11-19-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"skipped"}}}',-1095623799644005855,4349212610781333250);
INSERT INTO "event" VALUES(17,'7-16',1795110550395,0,'server',NULL,NULL,1829560000000,20261119,'cooked',NULL,1,'{"v":1,"id":"7-16","clock":{"wall_ms":1795110550395,"count":0,"device":"server"},"moment":{"at":"2026-11-19T13:42:10","offset_s":-21600,"zone":"America/Chicago"},"fact":{"cooked":{"batch":"tahini-sauce@2026-11-19/2","component":"tahini-sauce","way":"dry","session":"2026-11-29/1","x_mg":500000,"expected_mg":1200000,"output_mg":21897,"measured":"weighed","minutes":null,"minutes_planned":90,"reported":"told"}},"moves":[{"lot":"salt@2026-11-19/11","from":"freezer","to":"batch:tahini-sauce@2026-11-19/2","mg":16365,"worth":27673},{"lot":"pot:tahini-sauce@2026-11-19/2","from":"batch:tahini-sauce@2026-11-19/2","to":"trim","mg":264},{"lot":"pot:tahini-sauce@2026-11-19/2","from":"cooking-change","to":"batch:tahini-sauce@2026-11-19/2","mg":5796}]}',-2278684977407145343,4186483657894703676);
INSERT INTO "event" VALUES(18,'7-17',1795113525599,0,'phone',NULL,NULL,1829560000000,20261119,'cooled',NULL,1,'{"v":1,"id":"7-17","clock":{"wall_ms":1795113525599,"count":0,"device":"phone"},"moment":{"at":"2026-11-19T14:32:10","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"cooled":{"batch":"tahini-sauce@2026-11-19/2","readings":[]}}}',-6770051782296326647,-3623894316239976679);
INSERT INTO "event" VALUES(19,'7-18',1795113532755,0,'tablet',NULL,NULL,1829560000000,20261119,'stored',NULL,1,'{"v":1,"id":"7-18","clock":{"wall_ms":1795113532755,"count":0,"device":"tablet"},"moment":{"at":"2026-11-19T14:32:10","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"stored":{"batch":"tahini-sauce@2026-11-19/2"}},"cards":[{"lot":"tahini-sauce@2026-11-19/2/1","goods":{"component":"tahini-sauce"},"made":"2026-11-19T14:32:10","boxes":[{"box":"box-1l","count":1}]}],"moves":[{"lot":"tahini-sauce@2026-11-19/2/1","from":"batch:tahini-sauce@2026-11-19/2","to":"fridge","mg":21897,"worth":27673}]}',3030610451940777933,-8453117644174489021);
INSERT INTO "event" VALUES(20,'7-19',1795120314762,0,'phone',NULL,NULL,1829560000000,20261119,'served',NULL,1,'{"v":1,"id":"7-19","clock":{"wall_ms":1795120314762,"count":0,"device":"phone"},"moment":{"at":"2026-11-19T16:25:34","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"served":{"sitting":"2026-11-19-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"skipped"}}}',4632325689940020735,7289469913865160621);
INSERT INTO "event" VALUES(21,'7-20',1795122233287,0,'phone',NULL,NULL,1829560000000,20261119,'session-ended',NULL,1,'{"v":1,"id":"7-20","clock":{"wall_ms":1795122233287,"count":0,"device":"phone"},"moment":{"at":"2026-11-19T16:57:42","offset_s":-21600,"zone":"America/Chicago"},"fact":{"session-ended":{"session":"2026-11-29/1","minutes":243,"minutes_planned":180}}}',-2166982690731352682,7436849563917698661);
INSERT INTO "event" VALUES(22,'7-21',1795128867252,0,'phone',NULL,NULL,1829560000000,20261119,'left-out',NULL,1,'{"v":1,"id":"7-21","clock":{"wall_ms":1795128867252,"count":0,"device":"phone"},"moment":{"at":"2026-11-19T18:47:34","offset_s":-21600,"zone":"America/Chicago"},"fact":{"left-out":{"lot":"chickpeas@2026-11-19/1/1","minutes":41}},"cards":[{"lot":"chickpeas@2026-11-19/1/1","goods":{"component":"chickpeas"},"made":"2026-11-19T11:28:01","keep":{"best_by":"2026-11-21T18:47:34","use_by":"2026-11-23T18:47:34","rule":"made-up","source":"invented"},"boxes":[{"box":"box-1l","count":1}]}]}',7012350513984679758,-6738967262121651362);
INSERT INTO "event" VALUES(23,'7-22',1795133147238,0,'server',NULL,NULL,1829560000000,20261119,'thawed',NULL,1,'{"v":1,"id":"7-22","clock":{"wall_ms":1795133147238,"count":0,"device":"server"},"moment":{"at":"2026-11-19T19:59:18","offset_s":-21600,"zone":"America/Chicago"},"fact":"thawed","moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"freezer","to":"fridge","mg":103599,"worth":167878}]}',-8240916384348469398,2099852917513248611);
INSERT INTO "event" VALUES(24,'7-23',1795137816567,0,'tablet',NULL,NULL,1829560000000,20261119,'checked',NULL,1,'{"v":1,"id":"7-23","clock":{"wall_ms":1795137816567,"count":0,"device":"tablet"},"moment":{"at":"2026-11-19T21:17:14","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":"checked","moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"fridge","to":"unaccounted","mg":80807,"worth":130944},{"lot":"chickpeas@2026-11-19/1/2","from":"fridge","to":"unaccounted","mg":55943,"worth":90653},{"lot":"tahini-sauce@2026-11-19/2/1","from":"fridge","to":"unaccounted","mg":8101,"worth":10237},{"lot":"chickpeas@2026-11-19/1/2","from":"fridge","to":"unaccounted","mg":29546,"worth":47878}]}',-8604507472476070887,4783756085377715329);
INSERT INTO "event" VALUES(25,'7-24',1795137917540,0,'tablet',NULL,NULL,1829560000000,20261119,'ticked',NULL,0,'{"v":1,"id":"7-24","clock":{"wall_ms":1795137917540,"count":0,"device":"tablet"},"moment":{"at":"2026-11-19T21:18:34","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"ticked":{"food":"salt","state":"have"}}}',-630674897643159289,2658821309643289408);
INSERT INTO "event" VALUES(26,'7-25',1795143287647,0,'tablet',NULL,NULL,1829560000000,20261119,'moved',NULL,1,'{"v":1,"id":"7-25","clock":{"wall_ms":1795143287647,"count":0,"device":"tablet"},"moment":{"at":"2026-11-19T22:47:38","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":"moved","moves":[{"lot":"tahini-sauce@2026-11-19/2/1","from":"fridge","to":"freezer","mg":13796,"worth":17436}]}',-3605603775928871017,-8253972962287811027);
INSERT INTO "event" VALUES(27,'7-26',1795155812548,0,'tablet',NULL,NULL,1829560000000,20261120,'served',NULL,1,'{"v":1,"id":"7-26","clock":{"wall_ms":1795155812548,"count":0,"device":"tablet"},"moment":{"at":"2026-11-20T02:16:22","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"served":{"sitting":"2026-11-20-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"told"}},"moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"fridge","to":"eaten","mg":14586,"worth":23636},{"lot":"tahini-sauce@2026-11-19/2/1","from":"freezer","to":"eaten","mg":7311,"worth":9239},{"lot":"tahini-sauce@2026-11-19/2/1","from":"freezer","to":"eaten","mg":2399,"worth":3032},{"lot":"salt@2026-11-19/11","from":"freezer","to":"eaten","mg":128690,"worth":145296}]}',3440601875415610026,6201065725915130508);
INSERT INTO "event" VALUES(28,'7-27',1795155812548,1,'phone',NULL,NULL,1829560000000,20261120,'returned',NULL,0,'{"v":1,"id":"7-27","clock":{"wall_ms":1795155812548,"count":1,"device":"phone"},"moment":{"at":"2026-11-20T02:16:22","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"returned":{"sitting":"2026-11-20-dinner"}},"moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"eaten","to":"bin","mg":14339}]}',-3357306656427674185,-7358449079407437123);
INSERT INTO "event" VALUES(29,'7-28',1795158627964,0,'tablet',NULL,NULL,1829560000000,20261120,'counted',NULL,1,'{"v":1,"id":"7-28","clock":{"wall_ms":1795158627964,"count":0,"device":"tablet"},"moment":{"at":"2026-11-20T03:03:58","offset_s":-21600,"zone":"America/Chicago"},"by":"Bo \"the cook\"","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":"counted","moves":[{"lot":"chickpeas@2026-11-19/1/2","from":"unaccounted","to":"fridge","mg":32715},{"lot":"tahini-sauce@2026-11-19/2/1","from":"freezer","to":"unaccounted","mg":1634,"worth":2065},{"lot":"spinach@2026-11-18/2","from":"freezer","to":"unaccounted","mg":100555,"worth":21937},{"lot":"chickpeas@2026-11-19/1/1","from":"fridge","to":"unaccounted","mg":2133,"worth":3456}]}',6992329266738035346,8213935720342792273);
INSERT INTO "event" VALUES(30,'7-29',1795164760343,0,'server',NULL,NULL,1829560000000,20261120,'ticked','7-24',1,'{"v":1,"id":"7-29","clock":{"wall_ms":1795164760343,"count":0,"device":"server"},"moment":{"at":"2026-11-20T04:45:58","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","corrects":"7-24","fact":{"ticked":{"food":"salt","state":"have"}}}',-3381511241374534498,8972088504328453877);
INSERT INTO "event" VALUES(31,'7-30',1795166225277,0,'tablet',NULL,NULL,1829560000000,20261120,'returned','7-27',1,'{"v":1,"id":"7-30","clock":{"wall_ms":1795166225277,"count":0,"device":"tablet"},"moment":{"at":"2026-11-20T05:09:58","offset_s":-21600,"zone":"America/Chicago"},"plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","corrects":"7-27","fact":{"returned":{"sitting":"2026-11-20-dinner"}},"moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"eaten","to":"bin","mg":37142}]}',8672308397878013943,9177693298058632871);
INSERT INTO "event" VALUES(32,'7-31',1795175077553,0,'server',NULL,NULL,1829560000000,20261120,'cooked',NULL,1,'{"v":1,"id":"7-31","clock":{"wall_ms":1795175077553,"count":0,"device":"server"},"moment":{"at":"2026-11-20T07:37:40","offset_s":-21600,"zone":"America/Chicago"},"plan":"0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f0f","fact":{"cooked":{"batch":"chickpeas@2026-11-20/3","component":"chickpeas","way":"dry","session":null,"x_mg":500000,"expected_mg":1200000,"output_mg":4358,"measured":"expected","minutes":26,"minutes_planned":90,"reported":"told"}},"moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"fridge","to":"batch:chickpeas@2026-11-20/3","mg":1578,"worth":2557},{"lot":"chickpeas@2026-11-19/1/1","from":"fridge","to":"batch:chickpeas@2026-11-20/3","mg":1348,"worth":2184},{"lot":"pot:chickpeas@2026-11-20/3","from":"batch:chickpeas@2026-11-20/3","to":"trim","mg":150},{"lot":"pot:chickpeas@2026-11-20/3","from":"cooking-change","to":"batch:chickpeas@2026-11-20/3","mg":1582}]}',-7558349028673434198,-4845517667621861105);
INSERT INTO "event" VALUES(33,'7-32',1795175077553,1,'phone',NULL,NULL,1829560000000,20261120,'stored',NULL,1,'{"v":1,"id":"7-32","clock":{"wall_ms":1795175077553,"count":1,"device":"phone"},"moment":{"at":"2026-11-20T07:37:40","offset_s":-21600,"zone":"America/Chicago"},"fact":{"stored":{"batch":"chickpeas@2026-11-20/3"}},"cards":[{"lot":"chickpeas@2026-11-20/3/1","goods":{"component":"chickpeas"},"made":"2026-11-20T07:37:40","boxes":[{"box":"box-1l","count":1}]},{"lot":"chickpeas@2026-11-20/3/2","goods":{"component":"chickpeas"},"made":"2026-11-20T07:37:40","boxes":[{"box":"box-1l","count":1}]}],"moves":[{"lot":"chickpeas@2026-11-20/3/1","from":"batch:chickpeas@2026-11-20/3","to":"freezer","mg":2179,"worth":2370},{"lot":"chickpeas@2026-11-20/3/2","from":"batch:chickpeas@2026-11-20/3","to":"freezer","mg":2179,"worth":2370}]}',-2448963757010496176,-3190391518089580666);
INSERT INTO "event" VALUES(34,'7-33',1795180501023,0,'server',NULL,NULL,1829560000000,20261120,'undone','7-4',1,'{"v":1,"id":"7-33","clock":{"wall_ms":1795180501023,"count":0,"device":"server"},"moment":{"at":"2026-11-20T09:08:31","offset_s":-21600,"zone":"America/Chicago"},"corrects":"7-4","fact":"undone"}',-2735082110253955238,4691064283857117633);
INSERT INTO "event" VALUES(35,'7-34',1795181854987,0,'server',NULL,NULL,1829560000000,20261120,'receipt',NULL,1,'{"v":1,"id":"7-34","clock":{"wall_ms":1795181854987,"count":0,"device":"server"},"moment":{"at":"2026-11-20T09:30:44","offset_s":-21600,"zone":"America/Chicago"},"fact":{"receipt":{"trip":"2026-11-28/1","total_minor":8872}}}',6773479243163210813,-4303021747288605510);
INSERT INTO "event" VALUES(36,'7-35',1795194575041,0,'tablet',NULL,NULL,1829560000000,20261120,'reheated',NULL,1,'{"v":1,"id":"7-35","clock":{"wall_ms":1795194575041,"count":0,"device":"tablet"},"moment":{"at":"2026-11-20T13:03:02","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"reheated":{"lot":"chickpeas@2026-11-20/3/1"}},"cards":[{"lot":"chickpeas@2026-11-20/3/1","goods":{"component":"chickpeas"},"made":"2026-11-20T07:37:40","keep":{"best_by":"2026-11-22T13:03:02","use_by":"2026-11-24T13:03:02","rule":"made-up","source":"invented"},"boxes":[{"box":"box-1l","count":1}]}]}',-8340336698265062983,-6891534412576114747);
INSERT INTO "event" VALUES(37,'7-36',1795203712712,0,'server',NULL,NULL,1829560000000,20261120,'served',NULL,1,'{"v":1,"id":"7-36","clock":{"wall_ms":1795203712712,"count":0,"device":"server"},"moment":{"at":"2026-11-20T15:35:40","offset_s":-21600,"zone":"America/Chicago"},"fact":{"served":{"sitting":"2026-11-20-dinner","meal":"grain-bowl","eaters":["ada","bo"],"covers":3,"planned_mg":900000,"reported":"presumed"}},"moves":[{"lot":"chickpeas@2026-11-20/3/2","from":"freezer","to":"eaten","mg":501,"worth":544},{"lot":"chickpeas@2026-11-20/3/1","from":"freezer","to":"eaten","mg":1961,"worth":2132}]}',4153464069017080949,7806390467727936372);
INSERT INTO "event" VALUES(38,'7-37',1795203751193,0,'phone',NULL,NULL,1829560000000,20261120,'left-over',NULL,1,'{"v":1,"id":"7-37","clock":{"wall_ms":1795203751193,"count":0,"device":"phone"},"moment":{"at":"2026-11-20T15:35:40","offset_s":-21600,"zone":"America/Chicago"},"by":"Ada","fact":{"left-over":{"sitting":"2026-11-20-dinner"}},"cards":[{"lot":"2026-11-20-dinner/left-37","goods":{"dish":"grain-bowl"},"made":"2026-11-20T15:35:40"}],"moves":[{"lot":"2026-11-20-dinner/left-37","from":"eaten","to":"fridge","mg":615}]}',-1210789642768880814,-574992780754621374);
INSERT INTO "event" VALUES(39,'7-38',1795214985085,0,'tablet',NULL,NULL,1829560000000,20261120,'bought',NULL,1,'{"v":1,"id":"7-38","clock":{"wall_ms":1795214985085,"count":0,"device":"tablet"},"moment":{"at":"2026-11-20T18:43:20","offset_s":-21600,"zone":"America/Chicago"},"fact":{"bought":{"trip":null,"count":6,"price_minor":null,"reported":"told"}},"cards":[{"lot":"chickpea-dry@2026-11-20/38","goods":{"food":"chickpea-dry"},"made":"2026-11-20T18:43:20","pack":"500 g"}],"moves":[{"lot":"chickpea-dry@2026-11-20/38","from":"shop","to":"cupboard","mg":90718,"worth":808027}]}',-5243901422246020051,-6332934814635915243);
INSERT INTO "event" VALUES(40,'7-39',1795224853798,0,'server',NULL,NULL,1829560000000,20261120,'counted',NULL,1,'{"v":1,"id":"7-39","clock":{"wall_ms":1795224853798,"count":0,"device":"server"},"moment":{"at":"2026-11-20T21:28:00","offset_s":-21600,"zone":"America/Chicago"},"fact":"counted","moves":[{"lot":"chickpeas@2026-11-19/1/1","from":"fridge","to":"unaccounted","mg":1888,"worth":3060},{"lot":"chickpeas@2026-11-20/3/1","from":"unaccounted","to":"freezer","mg":9247},{"lot":"chickpeas@2026-11-20/3/1","from":"freezer","to":"unaccounted","mg":3880,"worth":97}]}',-973764966584415832,277453375240400753);
INSERT INTO "event" VALUES(41,'far-ahead',1829560000000,0,'phone',1829819200000,0,1829560000000,20261201,'counted',NULL,1,'{"v":1,"id":"far-ahead","clock":{"wall_ms":1829819200000,"count":0,"device":"phone"},"moment":{"at":"2026-12-01T18:30:00","offset_s":3600,"zone":"Europe/Berlin"},"by":"Ada","fact":"counted"}',364855901257309635,666721950100800298);
CREATE TABLE event_subject (
    kind TEXT NOT NULL,
    key TEXT NOT NULL,
    seq INTEGER NOT NULL REFERENCES event (seq),
    PRIMARY KEY (kind, key, seq)
) STRICT, WITHOUT ROWID;
INSERT INTO "event_subject" VALUES('batch','chickpeas@2026-11-19/1',13);
INSERT INTO "event_subject" VALUES('batch','chickpeas@2026-11-19/1',14);
INSERT INTO "event_subject" VALUES('batch','chickpeas@2026-11-19/1',15);
INSERT INTO "event_subject" VALUES('batch','chickpeas@2026-11-20/3',32);
INSERT INTO "event_subject" VALUES('batch','chickpeas@2026-11-20/3',33);
INSERT INTO "event_subject" VALUES('batch','tahini-sauce@2026-11-19/2',17);
INSERT INTO "event_subject" VALUES('batch','tahini-sauce@2026-11-19/2',18);
INSERT INTO "event_subject" VALUES('batch','tahini-sauce@2026-11-19/2',19);
INSERT INTO "event_subject" VALUES('lot','2026-11-20-dinner/left-37',38);
INSERT INTO "event_subject" VALUES('lot','chickpea-dry@2026-11-20/38',39);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',15);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',22);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',23);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',24);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',27);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',28);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',29);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',31);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',32);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/1',40);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/2',15);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/2',24);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-19/1/2',29);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-20/3/1',33);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-20/3/1',36);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-20/3/1',37);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-20/3/1',40);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-20/3/2',33);
INSERT INTO "event_subject" VALUES('lot','chickpeas@2026-11-20/3/2',37);
INSERT INTO "event_subject" VALUES('lot','pot:chickpeas@2026-11-19/1',13);
INSERT INTO "event_subject" VALUES('lot','pot:chickpeas@2026-11-20/3',32);
INSERT INTO "event_subject" VALUES('lot','pot:tahini-sauce@2026-11-19/2',17);
INSERT INTO "event_subject" VALUES('lot','salt@2026-11-19/11',12);
INSERT INTO "event_subject" VALUES('lot','salt@2026-11-19/11',13);
INSERT INTO "event_subject" VALUES('lot','salt@2026-11-19/11',17);
INSERT INTO "event_subject" VALUES('lot','salt@2026-11-19/11',27);
INSERT INTO "event_subject" VALUES('lot','spinach@2026-11-18/2',3);
INSERT INTO "event_subject" VALUES('lot','spinach@2026-11-18/2',5);
INSERT INTO "event_subject" VALUES('lot','spinach@2026-11-18/2',8);
INSERT INTO "event_subject" VALUES('lot','spinach@2026-11-18/2',9);
INSERT INTO "event_subject" VALUES('lot','spinach@2026-11-18/2',10);
INSERT INTO "event_subject" VALUES('lot','spinach@2026-11-18/2',11);
INSERT INTO "event_subject" VALUES('lot','spinach@2026-11-18/2',29);
INSERT INTO "event_subject" VALUES('lot','tahini-sauce@2026-11-19/2/1',19);
INSERT INTO "event_subject" VALUES('lot','tahini-sauce@2026-11-19/2/1',24);
INSERT INTO "event_subject" VALUES('lot','tahini-sauce@2026-11-19/2/1',26);
INSERT INTO "event_subject" VALUES('lot','tahini-sauce@2026-11-19/2/1',27);
INSERT INTO "event_subject" VALUES('lot','tahini-sauce@2026-11-19/2/1',29);
INSERT INTO "event_subject" VALUES('session','2026-11-29/1',21);
INSERT INTO "event_subject" VALUES('sitting','2026-11-18-dinner',1);
INSERT INTO "event_subject" VALUES('sitting','2026-11-18-dinner',2);
INSERT INTO "event_subject" VALUES('sitting','2026-11-18-dinner',4);
INSERT INTO "event_subject" VALUES('sitting','2026-11-19-dinner',8);
INSERT INTO "event_subject" VALUES('sitting','2026-11-19-dinner',9);
INSERT INTO "event_subject" VALUES('sitting','2026-11-19-dinner',10);
INSERT INTO "event_subject" VALUES('sitting','2026-11-19-dinner',16);
INSERT INTO "event_subject" VALUES('sitting','2026-11-19-dinner',20);
INSERT INTO "event_subject" VALUES('sitting','2026-11-20-dinner',27);
INSERT INTO "event_subject" VALUES('sitting','2026-11-20-dinner',28);
INSERT INTO "event_subject" VALUES('sitting','2026-11-20-dinner',31);
INSERT INTO "event_subject" VALUES('sitting','2026-11-20-dinner',37);
INSERT INTO "event_subject" VALUES('sitting','2026-11-20-dinner',38);
INSERT INTO "event_subject" VALUES('tick','olive-oil',7);
INSERT INTO "event_subject" VALUES('tick','salt',25);
INSERT INTO "event_subject" VALUES('tick','salt',30);
INSERT INTO "event_subject" VALUES('trip','2026-11-28/1',3);
INSERT INTO "event_subject" VALUES('trip','2026-11-28/1',12);
INSERT INTO "event_subject" VALUES('trip','2026-11-28/1',35);
CREATE TABLE fold_lot (
    lot TEXT PRIMARY KEY,
    open INTEGER NOT NULL CHECK (open IN (0, 1)),
    record TEXT NOT NULL,
    sum INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO "fold_lot" VALUES('2026-11-20-dinner/left-37',1,'{"lot":"2026-11-20-dinner/left-37","card":{"lot":"2026-11-20-dinner/left-37","goods":{"dish":"grain-bowl"},"made":"2026-11-20T15:35:40"},"held":{"fridge":{"mg":615,"worth":0}},"outside":{"eaten":{"mg":-615,"worth":0}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":615,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":1}',7869391441379009588);
INSERT INTO "fold_lot" VALUES('chickpea-dry@2026-11-20/38',1,'{"lot":"chickpea-dry@2026-11-20/38","card":{"lot":"chickpea-dry@2026-11-20/38","goods":{"food":"chickpea-dry"},"made":"2026-11-20T18:43:20","pack":"500 g"},"held":{"cupboard":{"mg":90718,"worth":808027}},"outside":{"shop":{"mg":-90718,"worth":-808027}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":90718,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":1}',-7872999183018602163);
INSERT INTO "fold_lot" VALUES('chickpeas@2026-11-19/1/1',1,'{"lot":"chickpeas@2026-11-19/1/1","card":{"lot":"chickpeas@2026-11-19/1/1","goods":{"component":"chickpeas"},"made":"2026-11-19T11:28:01","keep":{"best_by":"2026-11-21T18:47:34","use_by":"2026-11-23T18:47:34","rule":"made-up","source":"invented"},"boxes":[{"box":"box-1l","count":1}]},"held":{"fridge":{"mg":1259,"worth":2041}},"outside":{"batch:chickpeas@2026-11-19/1":{"mg":-103599,"worth":-167878},"batch:chickpeas@2026-11-20/3":{"mg":2926,"worth":4741},"eaten":{"mg":-22556,"worth":23636},"bin":{"mg":37142,"worth":0},"unaccounted":{"mg":84828,"worth":137460}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":103599,"opened":null,"thawed":"2026-11-19T19:59:18","reheats":0,"out_minutes":41,"events":9}',-3258000524292666782);
INSERT INTO "fold_lot" VALUES('chickpeas@2026-11-19/1/2',1,'{"lot":"chickpeas@2026-11-19/1/2","card":{"lot":"chickpeas@2026-11-19/1/2","goods":{"component":"chickpeas"},"made":"2026-11-19T11:28:01","boxes":[{"box":"box-1l","count":1}]},"held":{"fridge":{"mg":50825,"worth":29347}},"outside":{"batch:chickpeas@2026-11-19/1":{"mg":-103599,"worth":-167878},"unaccounted":{"mg":52774,"worth":138531}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":136314,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":3}',6708823004890128431);
INSERT INTO "fold_lot" VALUES('chickpeas@2026-11-20/3/1',1,'{"lot":"chickpeas@2026-11-20/3/1","card":{"lot":"chickpeas@2026-11-20/3/1","goods":{"component":"chickpeas"},"made":"2026-11-20T07:37:40","keep":{"best_by":"2026-11-22T13:03:02","use_by":"2026-11-24T13:03:02","rule":"made-up","source":"invented"},"boxes":[{"box":"box-1l","count":1}]},"held":{"freezer":{"mg":5585,"worth":141}},"outside":{"batch:chickpeas@2026-11-20/3":{"mg":-2179,"worth":-2370},"eaten":{"mg":1961,"worth":2132},"unaccounted":{"mg":-5367,"worth":97}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":11426,"opened":null,"thawed":null,"reheats":1,"out_minutes":0,"events":4}',-4858761434160664577);
INSERT INTO "fold_lot" VALUES('chickpeas@2026-11-20/3/2',1,'{"lot":"chickpeas@2026-11-20/3/2","card":{"lot":"chickpeas@2026-11-20/3/2","goods":{"component":"chickpeas"},"made":"2026-11-20T07:37:40","boxes":[{"box":"box-1l","count":1}]},"held":{"freezer":{"mg":1678,"worth":1826}},"outside":{"batch:chickpeas@2026-11-20/3":{"mg":-2179,"worth":-2370},"eaten":{"mg":501,"worth":544}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":2179,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":2}',-3075442622870842079);
INSERT INTO "fold_lot" VALUES('pot:chickpeas@2026-11-19/1',0,'{"lot":"pot:chickpeas@2026-11-19/1","card":null,"held":{},"outside":{"batch:chickpeas@2026-11-19/1":{"mg":8643,"worth":0},"trim":{"mg":16802,"worth":0},"cooking-change":{"mg":-25445,"worth":0}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":0,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":1}',1355455071766233195);
INSERT INTO "fold_lot" VALUES('pot:chickpeas@2026-11-20/3',0,'{"lot":"pot:chickpeas@2026-11-20/3","card":null,"held":{},"outside":{"batch:chickpeas@2026-11-20/3":{"mg":1432,"worth":0},"trim":{"mg":150,"worth":0},"cooking-change":{"mg":-1582,"worth":0}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":0,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":1}',7420479808993037439);
INSERT INTO "fold_lot" VALUES('pot:tahini-sauce@2026-11-19/2',0,'{"lot":"pot:tahini-sauce@2026-11-19/2","card":null,"held":{},"outside":{"batch:tahini-sauce@2026-11-19/2":{"mg":5532,"worth":0},"trim":{"mg":264,"worth":0},"cooking-change":{"mg":-5796,"worth":0}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":0,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":1}',-6524781663091447783);
INSERT INTO "fold_lot" VALUES('salt@2026-11-19/11',0,'{"lot":"salt@2026-11-19/11","card":{"lot":"salt@2026-11-19/11","goods":{"food":"salt"},"made":"2026-11-19T09:43:33","printed":"2026-11-28","pack":"500 g"},"held":{},"outside":{"shop":{"mg":-300842,"worth":-508726},"batch:chickpeas@2026-11-19/1":{"mg":198555,"worth":335757},"batch:tahini-sauce@2026-11-19/2":{"mg":16365,"worth":27673},"eaten":{"mg":128690,"worth":145296}},"overdrawn_mg":42768,"strayed_mg":0,"packed_mg":300842,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":4}',1134091844249659360);
INSERT INTO "fold_lot" VALUES('spinach@2026-11-18/2',1,'{"lot":"spinach@2026-11-18/2","card":{"lot":"spinach@2026-11-18/2","goods":{"food":"spinach"},"made":"2026-11-18T17:04:03","pack":"500 g"},"held":{"cupboard":{"mg":386581,"worth":630532}},"outside":{"shop":{"mg":-544468,"worth":-888054},"eaten":{"mg":52504,"worth":93511},"bin":{"mg":4828,"worth":0},"unaccounted":{"mg":100555,"worth":21937}},"overdrawn_mg":0,"strayed_mg":87106,"packed_mg":544468,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":5}',-2166952795073602341);
INSERT INTO "fold_lot" VALUES('tahini-sauce@2026-11-19/2/1',1,'{"lot":"tahini-sauce@2026-11-19/2/1","card":{"lot":"tahini-sauce@2026-11-19/2/1","goods":{"component":"tahini-sauce"},"made":"2026-11-19T14:32:10","boxes":[{"box":"box-1l","count":1}]},"held":{"freezer":{"mg":2452,"worth":3100}},"outside":{"batch:tahini-sauce@2026-11-19/2":{"mg":-21897,"worth":-27673},"eaten":{"mg":9710,"worth":12271},"unaccounted":{"mg":9735,"worth":12302}},"overdrawn_mg":0,"strayed_mg":0,"packed_mg":21897,"opened":null,"thawed":null,"reheats":0,"out_minutes":0,"events":5}',-2350224071113712854);
CREATE TABLE fold_tick (
    food TEXT PRIMARY KEY,
    record TEXT NOT NULL,
    sum INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO "fold_tick" VALUES('olive-oil','null',6601085983368743140);
INSERT INTO "fold_tick" VALUES('salt','"have"',-2530475977603498149);
CREATE TABLE own (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    device TEXT,
    wall_ms INTEGER NOT NULL,
    count INTEGER NOT NULL
, sum INTEGER NOT NULL DEFAULT 0) STRICT;
INSERT INTO "own" VALUES(1,'golden',1829560000005,0,6051962723138318846);
CREATE TABLE plan (
    seq INTEGER PRIMARY KEY,
    hash TEXT NOT NULL UNIQUE,
    parent TEXT,
    snapshot_hash TEXT NOT NULL REFERENCES snapshot (hash),
    -- Dates as texts: 2026-11-30, 2026-11-25T20:00:00.
    monday TEXT NOT NULL,
    made_at TEXT NOT NULL,
    record TEXT NOT NULL
, head_sum INTEGER NOT NULL DEFAULT 0) STRICT;
INSERT INTO "plan" VALUES(1,'bdd32f222931af9d00f4bae48accf1fdab31a2eb8780f2778600f2d6ce9bd3ce',NULL,'10c68dfaaeab3bb2b519d446ac66982abf2b80f4417154b8b751e1c9fabd4ca4','2026-11-30','2026-11-25T20:00:00','{
  "v": 1,
  "hash": "bdd32f222931af9d00f4bae48accf1fdab31a2eb8780f2778600f2d6ce9bd3ce",
  "made_up": "first"
}
',6640304856326607939);
INSERT INTO "plan" VALUES(2,'4b9329fa96aa82250d7055a53d68a3b89cbce8c0a76deef41ff0a5488a44e998','bdd32f222931af9d00f4bae48accf1fdab31a2eb8780f2778600f2d6ce9bd3ce','10c68dfaaeab3bb2b519d446ac66982abf2b80f4417154b8b751e1c9fabd4ca4','2026-11-30','2026-11-25T20:00:00','{
  "v": 1,
  "hash": "4b9329fa96aa82250d7055a53d68a3b89cbce8c0a76deef41ff0a5488a44e998",
  "made_up": "second"
}
',-1565106779399750688);
CREATE TABLE snapshot (
    hash TEXT PRIMARY KEY,
    record TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO "snapshot" VALUES('10c68dfaaeab3bb2b519d446ac66982abf2b80f4417154b8b751e1c9fabd4ca4','{
  "v": 1,
  "hash": "10c68dfaaeab3bb2b519d446ac66982abf2b80f4417154b8b751e1c9fabd4ca4",
  "made_up": "snapshot"
}
');
CREATE INDEX event_by_id ON event (id);
CREATE INDEX event_by_clock ON event (wall_ms, count, device, id);
CREATE INDEX event_by_day ON event (day);
CREATE INDEX event_by_corrected ON event (corrects) WHERE corrects IS NOT NULL;
CREATE TRIGGER event_is_never_changed
BEFORE UPDATE OF seq, id, wall_ms, count, device, said_wall_ms, said_count, received_ms, day, kind, corrects, record, sum ON event
BEGIN
    SELECT RAISE (ABORT, 'an event is never changed');
END;
CREATE TRIGGER event_is_never_taken_out
BEFORE DELETE ON event
BEGIN
    SELECT RAISE (ABORT, 'an event is never taken out');
END;
CREATE INDEX fold_lot_open ON fold_lot (lot) WHERE open = 1;
CREATE INDEX plan_by_week ON plan (monday);
CREATE INDEX choice_by_week ON choice (monday, seq);
CREATE TRIGGER event_arrival_is_never_changed
BEFORE UPDATE OF arrival_sum ON event WHEN old.arrival_sum <> 0
BEGIN
    SELECT RAISE (ABORT, 'an event is never changed');
END;
CREATE INDEX event_by_kind ON event (kind, day);
COMMIT;
PRAGMA application_id = 1279349335;
PRAGMA user_version = 2;
